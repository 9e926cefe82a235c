"""What a run cannot know of its own errors is stated: it grows with the way, and is less once checked."""

from __future__ import annotations

import math

import pytest

from lessonpress.footage.tracking.run import Run, Step
from lessonpress.footage.tracking.slide import closed, missed, open_ended, share
from lessonpress.records.mark import KNOWN_MARKS


def straight(start: int, last: int, pace: float) -> Run:
    """From (0, 50) along x at a pace in px a frame."""
    steps = {
        frame: Step((pace * (frame - start), 50.0), 0.0, 0.0, abs(pace) * (frame - start))
        for frame in range(start + 1, last + 1)
    }
    return Run(start, steps, "")


def test_every_mark_of_the_body_may_slide_and_a_thing_may_not() -> None:
    body = [mark for mark in KNOWN_MARKS if mark != "ball"]
    assert all(0 < share(mark) < 1 for mark in body)
    assert share("ball") == share("hatch") == 0.0


def test_an_open_run_is_the_less_sure_the_further_it_went() -> None:
    drifts = [step.drift for step in open_ended(straight(0, 10, 2.0), "navel", None).values()]
    assert drifts == sorted(drifts)
    assert drifts[-1] == pytest.approx(20 * share("navel"))


def test_a_run_that_is_still_where_the_clicks_move_takes_the_clicks_direction() -> None:
    still = open_ended(straight(0, 10, 0.0), "implement-head", (20, 300.0))
    assert still[10].drift == pytest.approx(150 * share("implement-head"))


def test_a_run_that_comes_through_meets_both_clicks() -> None:
    run = straight(0, 10, 2.0)
    miss = missed(run, {0: (0.0, 50.0), 10: (22.0, 50.0)}, 10)
    assert miss == (-2.0, 0.0)
    steps = closed(run, "navel", 10, miss, 1.0)
    assert list(steps) == list(range(1, 10))
    assert steps[5].point == pytest.approx((11.0, 50.0))
    assert max(steps.values(), key=lambda step: step.drift) is steps[5]
    assert steps[5].drift < math.hypot(*miss)


def test_a_miss_is_shared_out_over_the_pictures_of_its_own_run() -> None:
    """Also where the run begins late in the clip: a quarter of the way takes a quarter of the miss."""
    run = straight(1000, 1020, 2.0)
    steps = closed(run, "navel", 1020, (-8.0, 4.0), 1.0)
    for frame, share_of_way in ((1005, 0.25), (1010, 0.5), (1015, 0.75)):
        x = 2.0 * (frame - 1000)
        assert steps[frame].point == pytest.approx((x + 8 * share_of_way, 50 - 4 * share_of_way))


def test_a_run_that_ends_early_has_no_miss() -> None:
    assert missed(straight(0, 10, 2.0), {12: (0.0, 0.0)}, 12) is None
