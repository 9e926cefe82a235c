"""A floor plan from two views: its ellipses, and what is refused (`test_held_in_space.py` has truths)."""

from __future__ import annotations

import math

import numpy as np
import pytest

from lessonpress.measure import Refusal, Spot
from lessonpress.measure.kinds.plan import COVERING
from lessonpress.records import View
from tests.bench.second_view import OTHER, SAME
from tests.measure.twoviews import Filmed, filmed
from tests.studio.variation import another_body

MARKS = (
    "trail-hip",
    "lead-hip",
    "trail-shoulder",
    "lead-shoulder",
    "lead-wrist",
    "implement-head",
    "trail-toe",
)


def films(seed: int, view: View) -> tuple[Filmed, Filmed]:
    rng = np.random.default_rng([seed, 59])
    body = another_body(rng)
    return filmed(body, view, rng, followed=()), filmed(body, OTHER[view], rng, followed=(), same=SAME)


def planned(clip: Filmed, second: Filmed | None, event: str) -> tuple[Spot, ...] | Refusal:
    events = clip.setting.events
    return clip.survey(second).plan(MARKS, events[event], events["setup"])


def test_the_ellipse_is_the_one_of_a_normal_pair() -> None:
    """Of pairs drawn from a normal distribution 95 of 100 lie within so many standard deviations."""
    drawn = np.random.default_rng(0).normal(size=(200_000, 2))
    assert np.mean(np.hypot(*drawn.T) <= COVERING) == pytest.approx(0.95, abs=0.002)


def test_both_clips_draw_one_plan() -> None:
    clip, second = films(0, "face-on")
    one, other = (planned(a, b, "top") for a, b in ((clip, second), (second, clip)))
    assert not isinstance(one, Refusal) and not isinstance(other, Refusal)
    places = {spot.mark: spot for spot in other}
    for spot in one:
        if spot.mark in places:
            off = math.dist(spot.at, places[spot.mark].at)
            assert off < spot.ellipse[0] + places[spot.mark].ellipse[0], spot.mark


def test_without_a_second_view_and_without_feet_there_is_none() -> None:
    clip, second = films(0, "face-on")
    assert isinstance(planned(clip, None, "top"), Refusal)
    footless = tuple(one for one in clip.observations if not one.mark.endswith(("ankle", "heel", "toe")))
    found = planned(Filmed(clip.setting, footless, clip.truth, clip.start), second, "top")
    assert isinstance(found, Refusal) and "stands about the feet" in found.reason
