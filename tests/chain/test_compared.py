"""Two swings beside each other, one over months, and numbers against what is expected of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from lessonpress.cli.explain import worked
from tests.chain.chain import bodies, figure, holds, numbers, sight, sound, told, write_lesson, write_site
from tests.reading import read_and_bind
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import MadeClip, frame_times, make_clip
from tests.studio.swingers import DUNE, SHINGLE

CAMERA = looking_at((0.05, 0.92, 0), (0.05, 1.05, 4.2672), Camera(focal=625.0, size=(640, 360)))
Pair = tuple[Path, MadeClip, MadeClip]
OVERLAYS = [
    "tilt: [navel, c7]\nas: lean",
    "shift: navel\nas: travel",
    "distance: [trail-ankle, head]\nas: height",
]


@pytest.fixture(scope="module")
def two(tmp_path_factory: pytest.TempPathFactory) -> Pair:
    """A right-handed and a left-handed swing at impact, the second mirrored."""
    root = write_site(tmp_path_factory.mktemp("two"))
    right = make_clip(root, DUNE, CAMERA, 20, times=frame_times(1.2, 20))
    left = make_clip(root, SHINGLE, CAMERA, 20, times=frame_times(1.35, 20))
    of = f"at: impact\nof:\n  - clip: {right.name}\n  - clip: {left.name}\n    mirrored: true"
    write_lesson(root, "pair", right.name, figure("pair", "both", of, *OVERLAYS))
    return root, right, left


def true_of(clip: MadeClip) -> dict[str, float]:
    setup, impact = clip.seconds("setup"), clip.seconds("impact")
    return {
        "lean": clip.truth.tilt("navel", "c7", impact),
        "travel": clip.truth.shift("navel", setup, impact),
        "height": clip.truth.distance("trail-ankle", "head", impact),
    }


def compare(two: Pair, seed: int | None) -> dict[str, bool]:
    """Whether each side of the pair and their difference hold the truth. seed: of the clicks' errors."""
    root, right, left = two
    for number, clip in enumerate((right, left)):
        frames = [clip.events[event] for event in ("setup", "impact")]
        sight(clip, dict.fromkeys(bodies(clip), frames), {}, None if seed is None else 2 * seed + number)
    found = numbers(root, "pair")
    first, second = true_of(right), true_of(left)
    inside = {}
    for name in first:
        true = {"first": first[name], "second": second[name], "difference": first[name] - second[name]}
        inside |= {f"{name}.{part}": holds(found[f"{name}.{part}"], truth) for part, truth in true.items()}
    return inside


def test_differences_of_a_right_and_a_left_handed_swing_hold_the_true_ones(two: Pair) -> None:
    """First less second, signs running toward each swing's own target; mirroring changes no number."""
    assert all(compare(two, None).values())


def test_differences_hold_the_true_ones_with_the_error_of_clicks(two: Pair) -> None:
    """92 % and more, sides and differences, when every click errs by its stated u."""
    inside = [held for seed in range(12) for held in compare(two, seed).values()]
    compare(two, None)
    assert np.mean(inside) >= 0.92, np.mean(inside)


def test_a_difference_of_two_clips_is_as_unsure_as_both_together(two: Pair) -> None:
    """Between clips nothing is common: u² = u₁² + u₂² (JCGM 100:2008, 5.1.2, equation 10)."""
    found = numbers(two[0], "pair")
    for name in ("lean", "travel", "height"):
        first, second, both = (
            found[f"{name}.{part}"].uncertainty for part in ("first", "second", "difference")
        )
        assert first is not None and second is not None and both is not None
        assert both == pytest.approx((first**2 + second**2) ** 0.5, rel=0.05)


def test_a_pair_says_in_words_which_is_larger_only_where_that_is_known(two: Pair) -> None:
    root = two[0]
    bound = sound(root).lesson("pair")
    remarks = dict(zip(("lean", "travel", "height"), bound.plates[0].remarks, strict=True))
    for name, remark in remarks.items():
        difference = bound.measures[f"{name}.difference"]
        assert difference.low is not None and difference.high is not None
        told_apart = not difference.low <= 0 <= difference.high
        assert ("not distinguishable" in remark) is not told_apart
        assert ("larger" in remark or "smaller" in remark or "further" in remark) is told_apart
    assert "larger" in remarks["travel"]


def test_the_working_of_a_difference_names_the_frames_of_each_clip(two: Pair) -> None:
    found = numbers(two[0], "pair")
    first, second = found["travel.first"], found["travel.second"]
    lines = list(worked(found["travel.difference"], found, "in"))
    frames = [f"{', '.join(map(str, one.frames))} of {one.clips[0]}" for one in (first, second)]
    assert f"  frames  {'; '.join(frames)}" in lines


def test_one_swing_against_itself_differs_by_nothing_and_surely_so(two: Pair) -> None:
    """Every input is common: the difference is 0 and may be none."""
    root, right, _ = two
    of = f"at: impact\nof:\n  - clip: {right.name}\n  - clip: {right.name}"
    write_lesson(root, "same", right.name, figure("pair", "same", of, "shift: navel\nas: travel"))
    found = numbers(root, "same")
    (root / "lessons" / "same.md").unlink()
    assert found["travel.difference"].value == pytest.approx(0, abs=1e-9)
    assert found["travel.difference"].uncertainty == pytest.approx(0, abs=1e-6)


# months

MONTHS = {"may": ("2026-05-03", 0.0), "july": ("2026-07-05", 0.03), "september": ("2026-09-06", 0.06)}


def students(root: Path) -> dict[str, MadeClip]:
    """One student filmed three times, the navel's way to impact growing by 3 cm each time."""
    made = {}
    for name, (on, more) in MONTHS.items():
        keys = []
        for key in DUNE.keys:
            x, y, z = key.pelvis
            keys.append(replace(key, pelvis=(x + more / DUNE.stature, y, z)) if key.stage == 2 else key)
        swinger = replace(DUNE, keys=tuple(keys))
        times = frame_times(1.2, 20)
        made[name] = make_clip(root, swinger, CAMERA, 20, name=name, times=times, card={"filmed_on": on})
    return made


def test_progress_over_dated_clips_shows_each_true_number_in_the_order_of_its_day(tmp_path: Path) -> None:
    root = write_site(tmp_path)
    made = students(root)
    head = "at: impact\nclips: [september, may, july]"
    write_lesson(root, "months", "may", figure("progress", "months", head, "shift: navel\nas: travel"))
    bound = sound(root).lesson("months")
    chart = bound.plates[0].chart
    assert chart is not None
    assert [point.on for point in chart.points] == [date.fromisoformat(on) for on, _ in MONTHS.values()]
    for name, point in zip(MONTHS, chart.points, strict=True):
        truth = true_of(made[name])["travel"]
        assert holds(point.measure, truth), told(point.measure, truth)
    ways = [point.measure.value for point in chart.points]
    assert ways == sorted(ways, key=lambda way: way or 0)


def test_progress_over_mixed_views_is_an_error(tmp_path: Path) -> None:
    root = write_site(tmp_path)
    times = frame_times(1.2, 20)
    make_clip(root, DUNE, CAMERA, 20, name="front", times=times)
    make_clip(root, DUNE, CAMERA, 20, name="side", view="down-the-line", times=times)
    head = "at: impact\nclips: [front, side]"
    write_lesson(root, "months", "front", figure("progress", "months", head, "shift: navel\nas: travel"))
    errors = read_and_bind(root).problems.errors
    assert [error.wrong for error in errors] == ["views are mixed: face-on, down-the-line"]


# expectations


@pytest.mark.parametrize(
    ("expect", "answer"),
    [
        ("20..40 deg away", "inside"),
        ("29..45 deg away", "at its edge"),
        ("5..15 deg away", "outside"),
        ("20..40 deg toward", "outside"),
        ("-40..-20 deg", "inside"),
        ("steep", "inside"),
    ],
)
def test_a_range_has_three_answers(two: Pair, expect: str, answer: str) -> None:
    """Inside and outside only where the whole interval is; a word or signs say which way."""
    root, right, _ = two
    write_site(root, more="ranges:\n  steep: {range: 20..40 deg away, source: common practice}\n")
    overlay = f"tilt: [navel, c7]\nas: lean\nexpect: {expect}"
    write_lesson(root, "range", right.name, figure("frame", "impact", "at: impact", overlay))
    found = numbers(root, "range")["lean"]
    (root / "lessons" / "range.md").unlink()
    assert found.answer == answer, told(found, true_of(right)["lean"])
