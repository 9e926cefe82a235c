"""From a drawn video to the printed number: ± holds the orthographic truth, for every kind of measure.

The truth is computed by the studio from the joints themselves (`tests/studio/truth.py`), which shares no code
with the measure room.
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import binom

from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_pictures
from lessonpress.measure import At, Measured
from lessonpress.records.measure import Measure
from tests.chain import asked
from tests.chain.bodies import other_bodies
from tests.chain.chain import (
    bodies,
    filmed,
    frame,
    holds,
    numbers,
    root_of,
    told,
    track,
    write_lesson,
    write_site,
)
from tests.chain.chance import tries
from tests.chain.swing import ALONG_THE_LINE, KINDS, ask_all, place, truths
from tests.measure.twoviews import ABOVE_HAND
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import MadeClip, make_clip
from tests.studio.room import INCH
from tests.studio.strip import read as read_strip
from tests.studio.swingers import DUNE, SHINGLE

BODIES = len(tries(12))


@pytest.mark.parametrize("name", [*(one.id for one in KINDS), "tempo"])
def test_exact_marks_give_a_number_whose_uncertainty_holds_the_truth(
    name: str, kinds_clip: MadeClip, exact: dict[str, Measure]
) -> None:
    truth = truths(kinds_clip)[name]
    assert holds(exact[name], truth), told(exact[name], truth)


def test_the_length_of_the_club_on_the_card_narrows_the_angle_at_the_wrist(
    kinds_clip: MadeClip, exact: dict[str, Measure]
) -> None:
    """No depth of the clubhead is stated; that of the lead wrist is, from which the club is counted."""
    card = kinds_clip.folder / "clip.yaml"
    kept = card.read_text(encoding="utf-8")
    length = (DUNE.club_length + ABOVE_HAND) / INCH
    card.write_text(f"{kept}implement_length: {length:.1f} in\n", encoding="utf-8")
    found = numbers(root_of(kinds_clip), "kinds")["wrist-angle"]
    card.write_text(kept, encoding="utf-8")
    assert found.uncertainty is not None and exact["wrist-angle"].uncertainty is not None
    assert found.uncertainty < 0.9 * exact["wrist-angle"].uncertainty
    truth = truths(kinds_clip)["wrist-angle"]
    assert holds(found, truth), told(found, truth)


def test_the_pictures_of_the_numbers_are_those_that_the_card_names(
    kinds_clip: MadeClip, exact: dict[str, Measure]
) -> None:
    """Every drawn picture carries its own number as a strip of dark and light; read back from the file."""
    frames = sorted({number for measure in exact.values() for number in measure.frames})
    assert {kinds_clip.events[event] for event in ("setup", "top", "impact")} <= set(frames)
    pictures = take_pictures(kinds_clip.video, read_index(kinds_clip.video), frames)
    assert [read_strip(picture) for _, picture in pictures] == frames


def test_cards_and_marks_that_err_as_they_state_keep_the_truth_inside(
    kinds_clip: MadeClip, tmp_path: Path
) -> None:
    """Over many bodies, cameras, cards and clicks, 92 % of truths lie inside ±, of all kinds and of each.

    Every repeat is another body: with one body for all, its depths would be the same systematic error in
    every repeat, and a kind could cover 75 % or 100 % with its ± being right. Of a single kind so few repeats
    can show no more than the binomial distribution allows: fewer hits than its lowest hundredth at 92 % fail.
    """
    root = write_site(tmp_path)
    inside: dict[str, list[bool]] = defaultdict(list)
    for seed, clip in other_bodies(root, kinds_clip, BODIES):
        ask_all(clip)
        place(clip, seed)
        found = numbers(root, "kinds")
        for name, truth in truths(clip).items():
            if found[name].value is not None:
                inside[name].append(holds(found[name], truth))
    assert np.mean([hit for hits in inside.values() for hit in hits]) >= 0.92
    assert inside.keys() == truths(kinds_clip).keys()
    for name, hits in inside.items():
        assert len(hits) > BODIES / 2, f"{name} is refused for most bodies"
        assert sum(hits) >= binom.ppf(0.01, len(hits), 0.92), f"{name}: {sum(hits)} of {len(hits)}"


def test_a_mark_carried_over_the_pictures_themselves_keeps_the_truth_inside(kinds_clip: MadeClip) -> None:
    """Placed by hand on five pictures; what tracking reads from the film between gives the rest."""
    place(kinds_clip, None, carried=False)
    made = track(root_of(kinds_clip), kinds_clip.name, "lead-wrist", first=kinds_clip.events["top"])
    assert len(made["lead-wrist"].rows) >= 50, made["lead-wrist"].lost
    write_lesson(root_of(kinds_clip), "kinds", kinds_clip.name, *map(frame, asked.CARRIED))
    found = numbers(root_of(kinds_clip), "kinds")
    for one in asked.CARRIED:
        assert holds(found[one.id], one.truth(kinds_clip)), told(found[one.id], one.truth(kinds_clip))


def test_body_marks_hold_their_truth_as_often_as_their_uncertainty_says(kinds_clip: MadeClip) -> None:
    """Travel of every mark between the events, level and plumb, and every limb's height: 92 % inside.

    Depths are those of the posture table, which no swinger fits in every mark.
    """
    place(kinds_clip, None)
    film = filmed(root_of(kinds_clip), kinds_clip.name)
    events, truth = kinds_clip.events, kinds_clip.truth
    hits = []
    pairs = [("setup", "top"), ("top", "impact"), ("setup", "impact")]
    for mark in bodies(kinds_clip):
        for first, last in pairs:
            for axis in ("level", "plumb"):
                found = film.survey.shift(At(mark, events[first]), At(mark, events[last]), axis)
                assert isinstance(found, Measured)
                true = truth.shift(mark, kinds_clip.seconds(first), kinds_clip.seconds(last), axis)
                hits.append(found.low <= true <= found.high)
    limbs = [
        ("hip", "knee"),
        ("knee", "ankle"),
        ("shoulder", "elbow"),
        ("elbow", "wrist"),
        ("hip", "shoulder"),
    ]
    for side in ("lead", "trail"):
        for near, far in limbs:
            for event in ("setup", "top", "impact"):
                ends = f"{side}-{near}", f"{side}-{far}"
                found = film.survey.distance(*(At(mark, events[event]) for mark in ends), "plumb")
                assert isinstance(found, Measured)
                true = truth.distance(*ends, kinds_clip.seconds(event), "plumb")
                hits.append(found.low <= true <= found.high)
    assert len(hits) >= 130
    assert np.mean(hits) >= 0.92, f"{np.mean(hits):.3f} of {len(hits)}"


SMALL = looking_at((0.05, 0.92, 0), (0.05, 1.05, 4.2672), Camera(focal=625.0, size=(640, 360)))


@pytest.mark.parametrize("view", ["face-on", "from-behind", "down-the-line", "from-target"])
def test_every_view_of_a_left_handed_swing_keeps_the_truth_inside(view: str, tmp_path: Path) -> None:
    """Signs run toward the target or the ball whichever way they lie in the picture."""
    root = write_site(tmp_path)
    kinds = [*ALONG_THE_LINE, *asked.FACED] if view in ("face-on", "from-behind") else ALONG_THE_LINE
    clip = make_clip(root, SHINGLE, SMALL, 30, view=view)  # type: ignore[arg-type]
    write_lesson(root, "kinds", clip.name, *map(frame, kinds))
    found = numbers(root, "kinds")
    misses = [
        told(found[one.id], one.truth(clip)) for one in kinds if not holds(found[one.id], one.truth(clip))
    ]
    assert not misses
