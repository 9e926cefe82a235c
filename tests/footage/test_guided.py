"""Carried by what is seen of the body: put right at the clicks, smooth between them, and nothing where it is
contradicted.

The path is made up, so that the truth is known; on rendered film `python -m tests.suggesting` tries it.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from scipy.signal import detrend

from lessonpress.footage.pose.learnt import LearntPath, learnt_for
from lessonpress.footage.pose.suggesting import Guide, Suggestion
from lessonpress.footage.tracking.guided import Guidance, corrected, guidances, guided, guided_marks
from lessonpress.footage.tracking.tracking import track_mark
from lessonpress.records.mark import Observation
from tests.footage.drawn import Picture, rolling

SIDE, COUNT = 600.0, 41
LEARNT = LearntPath(0.01)
CLICKS = (0, 20, 40)
SECONDS = [frame / 15 for frame in range(41)]


def true(frame: int) -> tuple[float, float]:
    return 200 + 60 * math.sin(frame / 14), 120 + 1.5 * frame


def guides(off: tuple[float, float] = (9.0, -7.0), noise: float = 0.0) -> dict[int, Guide]:
    """Suggestions that are all off by as much, and by chance."""
    chance = np.random.default_rng(5)
    return {
        frame: Guide(tuple(np.add(true(frame), off) + chance.normal(0, noise, 2)), 8.0, SIDE)
        for frame in range(COUNT)
    }


def guidance(seen: dict[int, Guide], size: float = 0.01) -> Guidance:
    return Guidance(seen, LearntPath(size), SECONDS)


def by_hand(*frames: int) -> dict[int, tuple[float, float]]:
    return {frame: true(frame) for frame in frames}


def test_what_stays_off_is_taken_away_at_the_clicks() -> None:
    found = corrected(by_hand(*CLICKS), guidance(guides()))
    assert sorted(found) == [frame for frame in range(COUNT) if frame not in CLICKS]
    assert max(math.dist(one.point, true(frame)) for frame, one in found.items()) < 1.5


def test_chance_is_smoothed_and_one_wild_picture_counts_for_nothing() -> None:
    seen = guides(noise=3.0)
    seen[30] = replace(seen[30], point=(20.0, 20.0))
    found = corrected(by_hand(*CLICKS), guidance(seen))
    off = [math.dist(one.point, true(frame)) for frame, one in found.items()]
    assert np.median(off) < 2.5 and max(off) < 6


def test_more_pictures_in_the_same_time_take_more_chance_away() -> None:
    """The mark is still, so that all that is left is chance: by a root of 4 less at 4 times the pictures.

    What chance at the two clicks leaves is a line, and not counted.
    """
    chance = np.random.default_rng(6)
    frames = range(400)
    seen = {
        frame: Guide(tuple(np.array([90.0, 70.0]) + chance.normal(0, 3, 2)), 8.0, SIDE) for frame in frames
    }
    hand = {0: (90.0, 70.0), 399: (90.0, 70.0)}
    slow, fast = (
        [
            one.point
            for frame, one in corrected(hand, Guidance(seen, LEARNT, [at / rate for at in frames])).items()
            if 100 < frame < 300
        ]
        for rate in (50, 200)
    )
    assert np.std(detrend(fast, axis=0)) < 0.7 * np.std(detrend(slow, axis=0))


def test_a_click_that_contradicts_what_is_seen_leaves_its_sides_open() -> None:
    hand = by_hand(*CLICKS)
    hand[20] = (hand[20][0] + 60, hand[20][1])
    assert corrected(hand, guidance(guides())) == {}


def test_where_the_body_is_not_seen_nothing_is_given() -> None:
    seen = {frame: guide for frame, guide in guides().items() if not 25 <= frame <= 33}
    assert not set(range(25, 34)) & corrected(by_hand(*CLICKS), guidance(seen)).keys()


def test_an_error_goes_with_the_posture_and_not_with_time() -> None:
    """The body turns at frame 6, and what is suggested is off by 8 px more from then on. A straight line in
    time from click to click would be 5 px wrong at frame 8.
    """
    seen = {
        frame: replace(
            guide,
            point=(guide.point[0] + 8 * (frame >= 6), guide.point[1]),
            body=((300.0 + 150 * (frame >= 6), 250.0),),
        )
        for frame, guide in guides().items()
    }
    found = corrected(by_hand(*CLICKS), guidance(seen))
    assert max(math.dist(found[frame].point, true(frame)) for frame in (2, *range(10, 20))) < 2
    assert found[2].u < found[13].u


def test_where_pixels_carried_the_mark_it_is_put_right_too() -> None:
    """What is suggested is off by 5 px more half-way between two clicks, which they cannot show."""
    seen = {
        frame: replace(
            guide, point=(guide.point[0] + 5 * math.sin(math.pi * frame / 20) ** 2, guide.point[1])
        )
        for frame, guide in guides().items()
    }
    place = Observation("navel", 10, *true(10), 0.5, tracked=True, origin=0)
    alone = corrected(by_hand(*CLICKS), guidance(seen))
    both = corrected(by_hand(*CLICKS), guidance(seen), [place])
    for frame in (9, 10, 11):
        assert math.dist(both[frame].point, true(frame)) < 2 < math.dist(alone[frame].point, true(frame))
        assert both[frame].u < 0.6 * alone[frame].u


def test_a_place_that_is_too_unsure_has_its_reason() -> None:
    unsure = guided("navel", by_hand(*CLICKS), guidance(guides(), 0.03), 1.0)
    assert re.fullmatch(r"what is seen of the body leaves 1\d\.\d px in doubt", str(unsure[10]))
    assert isinstance(unsure[19], Observation)


def rows(seen: Guidance | None) -> tuple[Observation, ...]:
    def still(_frame: int) -> tuple[float, float]:
        return 40.0, 40.0

    pictures: list[tuple[int, Picture]] = list(rolling(COUNT, still))
    return track_mark(pictures, "navel", by_hand(*CLICKS), 0, COUNT - 1, seen).rows


def test_it_fills_what_pixels_leave_open_and_says_from_which_click() -> None:
    """What moves in the picture is elsewhere, so that pixels alone carry nothing here."""
    alone, both = rows(None), rows(guidance(guides(), 0.004))
    assert len(both) == COUNT - len(CLICKS) > len(alone)
    assert [row.frame for row in both] == sorted(row.frame for row in both)
    given = next(row for row in both if row.frame == 13)
    assert given.tracked and given.origin == 20 and given.u == pytest.approx(1.6, abs=0.2)


def test_it_helps_marks_with_two_clicks_of_which_paths_were_learnt() -> None:
    frames = {"navel": CLICKS, "c7": (0,), "implement-head": CLICKS, "lead-wrist": CLICKS}
    assert guided_marks("face-on", frames) == ("navel",)
    assert guided_marks("overhead", frames) == () == guided_marks("down-the-line", frames)
    learnt = learnt_for("face-on")
    assert learnt is not None
    one = Suggestion(3, (Observation("navel", 3, 1.0, 2.0, 5.0, suggested=True),), side=SIDE)
    found = guidances([one, Suggestion(4, why="no person")], "face-on", ["navel"], SECONDS)
    assert found == {"navel": Guidance({3: Guide((1.0, 2.0), 5.0, SIDE)}, learnt.paths["navel"], SECONDS)}
