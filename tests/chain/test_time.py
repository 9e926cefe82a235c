"""Real time out of files that play at another: pulldown, slow motion, and speeds that pictures cannot give.

A fall under standard gravity, v = g t with g = 9.80665 m/s² (CGPM 1901), and swings of known tempo.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from lessonpress.records.measure import Measure
from tests.chain.chain import (
    bodies,
    figure,
    filmed,
    holds,
    numbers,
    root_of,
    sight,
    sound,
    told,
    track,
    write_lesson,
    write_site,
    wrongs,
)
from tests.reading import read_and_bind
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import STANDARD_GRAVITY, MadeClip, frame_times, make_clip, make_drop
from tests.studio.swingers import DUNE

SMALL = looking_at((0.05, 0.92, 0), (0.05, 1.05, 4.2672), Camera(focal=625.0, size=(640, 360)))
BALL = "falling-ball"
HANDS = ("lead-wrist", "lead-elbow")
QUICK = replace(DUNE, name="Quick", backswing=0.3, downswing=0.1, lead_in=0.03)


def pulled_down(seconds: float) -> np.ndarray:
    """Real seconds of 24 pictures a second shown at 30: every fifth picture is one shown again."""
    count = int(seconds * 30)
    return np.floor(np.arange(count) * 24 / 30 + 1e-9) / 24


def speed_of(clip: MadeClip, number: int, mark: str = BALL) -> Measure:
    block = figure("frame", "picture", f"at: {number}", f"speed: {mark}\nas: now")
    write_lesson(root_of(clip), "speed", clip.name, block)
    return numbers(root_of(clip), "speed")["now"]


def repeated(times: np.ndarray) -> tuple[int, ...]:
    return tuple(int(number) + 1 for number in np.flatnonzero(np.diff(times) == 0))


# pulldown


@pytest.fixture(scope="module")
def pulled(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """A falling ball taken 24 times a second, in a file of 30."""
    root = write_site(tmp_path_factory.mktemp("pulled"))
    clip = make_drop(root, mark=BALL, radius=0.12, times=pulled_down(0.6), fps=30)
    sight(clip, {BALL: [0]}, {BALL: range(len(clip.times))})
    return clip


def test_pictures_that_are_shown_again_are_found_and_take_no_time_of_their_own(pulled: MadeClip) -> None:
    film = filmed(root_of(pulled), pulled.name)
    assert film.study.repeats == repeated(pulled.times)
    assert film.seconds == pytest.approx(pulled.times.tolist(), abs=1e-6)


@pytest.mark.parametrize("number", [7, 9, 12])
def test_a_speed_among_repeated_pictures_is_the_true_one(pulled: MadeClip, number: int) -> None:
    found, truth = speed_of(pulled, number), STANDARD_GRAVITY * float(pulled.times[number])
    assert holds(found, truth), told(found, truth)
    assert found.uncertainty is not None and found.uncertainty < 0.15 * truth


def test_the_tempo_of_a_transferred_film_is_the_true_one(tmp_path: Path) -> None:
    """3 : 1 by the drawing; each event is good to half a captured picture, of which there are 24 a second."""
    root = write_site(tmp_path)
    times = pulled_down(1.4)
    clip = make_clip(root, DUNE, SMALL, 30, times=times, noise=1.5)
    write_lesson(root, "tempo", clip.name, figure("frame", "top", "at: top", "ring: head"), prose="{tempo}")
    tempo = numbers(root, "tempo")["tempo"]
    assert holds(tempo, 3.0), told(tempo, 3.0)
    assert filmed(root, clip.name).study.repeats == repeated(times)


def irregular(rate: float, count: int) -> np.ndarray:
    """Real seconds of pictures captured at a rate that keeps no beat with the 30 a second of the file."""
    return np.floor(np.arange(count) * rate / 30 + 0.99) / rate


def test_a_speed_among_irregular_repeats_says_how_well_the_pace_is_known(tmp_path: Path) -> None:
    """25.9 pictures a second in a file of 30: the pace is known to one picture's time over the clip."""
    clip = make_drop(write_site(tmp_path), mark=BALL, radius=0.12, times=irregular(25.9, 18), fps=30)
    sight(clip, {BALL: [0]}, {BALL: range(len(clip.times))})
    assert filmed(root_of(clip), clip.name).study.repeats == repeated(clip.times)
    found, truth = speed_of(clip, 11), STANDARD_GRAVITY * float(clip.times[11])
    assert holds(found, truth), told(found, truth)
    assert found.budget is not None
    assert any(one.words == "pace of the captured pictures" for one in found.budget.shares)
    assert "pictures captured at an even pace, some of them shown again" in found.assumed


def test_a_speed_is_refused_where_repeats_leave_no_even_pace(tmp_path: Path) -> None:
    """Two of four pictures lost, and none after: which was captured when is anybody's guess."""
    times = np.array([0, 1, 2, 3, 4, 5, 5, 7, 7, 9, 10, 11, 12, 13, 14, 15, 16, 17]) / 30
    clip = make_drop(write_site(tmp_path), mark=BALL, radius=0.12, times=times, fps=30)
    sight(clip, {BALL: [0]}, {BALL: range(len(clip.times))})
    assert filmed(root_of(clip), clip.name).study.repeats == repeated(clip.times)
    found = speed_of(clip, 13)
    assert found.refused is not None and "leave no even pace" in found.refused
    assert found.way_out == "take the file that the camera wrote, or add filmed_at to the card"


# slow motion


@pytest.mark.parametrize("number", [30, 70, 100])
def test_240_pictures_a_second_played_at_30_give_true_speeds(slow_fall: MadeClip, number: int) -> None:
    found, truth = speed_of(slow_fall, number), STANDARD_GRAVITY * float(slow_fall.times[number])
    assert holds(found, truth), told(found, truth)
    assert found.uncertainty is not None and found.uncertainty < 0.1 * truth


@pytest.fixture(scope="module")
def slow_fall(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """A falling ball taken 240 times a second, in a file of 30, carried over it by tracking."""
    root = write_site(tmp_path_factory.mktemp("slow"))
    clip = make_drop(root, mark=BALL, radius=0.12, times=np.arange(110) / 240, fps=30)
    assert "filmed_at: 240" in (clip.folder / "clip.yaml").read_text(encoding="utf-8")
    sight(clip, {BALL: [0]}, {})
    made = track(root, clip.name, BALL)
    assert made[BALL].lost is None
    return clip


def test_240_pictures_a_second_played_at_30_give_true_tempo_and_swing_speeds(tmp_path: Path) -> None:
    root = write_site(tmp_path)
    times = frame_times(0.46, 240)
    clip = make_clip(root, QUICK, SMALL, 240, fps=30, times=times, tracked=HANDS)
    asked = [f"speed: {mark}\nas: {mark}" for mark in HANDS]
    block = figure("frame", "late", "at: top - 12", *asked)
    write_lesson(root, "slow", clip.name, block, prose="{tempo}")
    found = numbers(root, "slow")
    late = float(clip.times[clip.events["top"] - 12])
    for mark in HANDS:
        truth = clip.truth.speed(mark, late)
        assert holds(found[mark], truth), told(found[mark], truth)
    assert holds(found["tempo"], 3.0), told(found["tempo"], 3.0)
    bound = sound(root).lesson("slow")
    backswing = next(part for part in bound.clips[0].parts if part.name == "backswing")
    assert abs(backswing.seconds - QUICK.backswing) <= backswing.pm


# blur

SHUTTER = 1 / 200


@pytest.fixture(scope="module")
def blurred(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """A falling ball that smears over up to 2 cm, each picture the mean of moments of its exposure."""
    root = write_site(tmp_path_factory.mktemp("blurred"))
    clip = make_drop(root, mark=BALL, radius=0.05, times=np.arange(46) / 120, fps=30, shutter=SHUTTER)
    card = clip.folder / "clip.yaml"
    card.write_text(card.read_text(encoding="utf-8") + "shutter: 1/200 s\n", encoding="utf-8")
    return clip


@pytest.mark.parametrize("number", [25, 43])
def test_a_tracked_mark_that_smears_gives_its_true_speed(blurred: MadeClip, number: int) -> None:
    sight(blurred, {BALL: [0]}, {})
    assert track(root_of(blurred), blurred.name, BALL)[BALL].lost is None
    found, truth = speed_of(blurred, number), STANDARD_GRAVITY * float(blurred.times[number])
    assert holds(found, truth), told(found, truth)
    assert found.uncertainty is not None and found.uncertainty < 0.1 * truth


@pytest.mark.parametrize("part", [-0.5, 0.5, None])
def test_hand_placed_marks_anywhere_on_their_smears_give_the_true_speed(
    blurred: MadeClip, part: float | None
) -> None:
    """At the smear's beginning, at its end, or anywhere on it, a new place in every picture."""
    rng = np.random.default_rng(4)
    frames, exact = range(36, 45), dict(blurred.px)
    for number in frames:
        way = (exact[BALL][number + 1] - exact[BALL][number - 1]) / 2 * SHUTTER * 120
        late = rng.uniform(-0.5, 0.5) if part is None else part
        blurred.px[BALL] = blurred.px[BALL].copy()
        blurred.px[BALL][number] = exact[BALL][number] + late * way
    sight(blurred, {BALL: frames}, {})
    blurred.px.update(exact)
    found, truth = speed_of(blurred, 40), STANDARD_GRAVITY * float(blurred.times[40])
    assert holds(found, truth), told(found, truth)
    assert found.budget is not None and any("in its streak" in share.words for share in found.budget.shares)


# refused


@pytest.fixture(scope="module")
def coarse(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """30 pictures a second: eight of a downswing."""
    root = write_site(tmp_path_factory.mktemp("coarse"))
    return make_clip(root, DUNE, SMALL, 30, times=frame_times(1.3, 30), shutter=1 / 60)


def standing(clip: MadeClip, *frames: int) -> dict[str, tuple[int, ...]]:
    """Every mark of the body placed by hand on these frames."""
    return dict.fromkeys(bodies(clip), frames)


def test_a_speed_is_refused_where_too_few_pictures_show_the_mark(coarse: MadeClip) -> None:
    impact = coarse.events["impact"]
    sight(coarse, standing(coarse, impact), {"lead-wrist": range(impact - 3, impact)})
    found = speed_of(coarse, impact, "lead-wrist")
    assert found.value is None and found.refused is not None
    assert "too few places of lead-wrist" in found.refused and "five" in found.refused
    assert found.way_out == "track lead-wrist over five frames or more on this side of impact"


def test_a_speed_is_refused_where_the_mark_turns_too_far_from_picture_to_picture(coarse: MadeClip) -> None:
    """Over 20° a picture no polynomial through five places follows a circle."""
    impact = coarse.events["impact"]
    sight(coarse, standing(coarse, impact), {"implement-head": range(impact - 8, impact)})
    found = speed_of(coarse, impact - 2, "implement-head")
    assert found.value is None and found.refused is not None
    assert "turns by" in found.refused and "from picture to picture" in found.refused
    assert found.way_out == "film at more pictures per second"


def test_a_speed_is_refused_where_blur_hides_the_mark_and_tracking_said_so(coarse: MadeClip) -> None:
    """The clubhead smears over half its path between pictures: it is lost, and nothing is filled in.

    What is left of it is blur, or the edge of its smear.
    """
    top, impact = coarse.events["top"], coarse.events["impact"]
    sight(coarse, standing(coarse, top, impact), {})
    made = track(root_of(coarse), coarse.name, "implement-head")["implement-head"]
    assert made.lost is not None and re.search("blur|edge along which it could slide", made.lost)
    assert impact - 2 not in {row.frame for row in made.rows}
    found = speed_of(coarse, impact, "implement-head")
    assert found.value is None and found.refused is not None and "too few places" in found.refused


def test_a_speed_is_refused_where_marks_were_placed_by_hand_on_a_long_smear(tmp_path: Path) -> None:
    """A clubhead goes more than 10 in while the shutter of 1/125 s is open, and cannot be placed."""
    root = write_site(tmp_path)
    impact = DUNE.events["impact"]
    times = impact + (np.arange(14) - 12) / 120
    clip = make_clip(root, DUNE, SMALL, 120, times=times, at=(), card={"events": {"impact": 12}})
    sight(clip, dict.fromkeys(bodies(clip), (12,)) | {"implement-head": range(4, 13)}, {})
    card = clip.folder / "clip.yaml"
    before = card.read_text(encoding="utf-8")
    assert clip.truth.speed("implement-head", float(times[10])) / 125 > 0.25
    card.write_text(before + "shutter: 1/125 s\n", encoding="utf-8")
    found = speed_of(clip, 10, "implement-head")
    assert found.value is None and found.refused is not None
    assert found.refused.startswith("blur: implement-head smears over")
    assert found.way_out == "film it with a shutter of 1/500 s or shorter"
    card.write_text(before + "shutter: 1/1000 s\n", encoding="utf-8")
    sharp = speed_of(clip, 10, "implement-head")
    truth = clip.truth.speed("implement-head", float(times[10]))
    assert holds(sharp, truth), told(sharp, truth)


def test_an_exposure_longer_than_the_time_between_pictures_is_an_error(blurred: MadeClip) -> None:
    block = figure("frame", "picture", "at: 10", f"ring: {BALL}")
    write_lesson(root_of(blurred), "speed", blurred.name, block)
    card = blurred.folder / "clip.yaml"
    before = card.read_text(encoding="utf-8")
    card.write_text(before.replace("1/200 s", "1/60 s"), encoding="utf-8")
    wrong = wrongs(read_and_bind(root_of(blurred)).problems)
    card.write_text(before, encoding="utf-8")
    assert "a shutter of 16.7 ms is longer than the 8.3 ms from picture to picture" in wrong
