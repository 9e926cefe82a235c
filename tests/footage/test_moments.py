"""The moments of a swing are found where they are, by their own ±, and not where nothing says which is meant.

Truth is the studio's; the golfer is Shingle, by whom nothing was set (`python -m tests.suggesting`).
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from lessonpress.footage.camera.difference import Change
from lessonpress.footage.moments.ball import last_with_ball
from lessonpress.footage.moments.finding import BY_CHANGE, moments
from lessonpress.footage.moments.heights import Seen, frames_looked_at, heights
from lessonpress.footage.pose.running import can_suggest
from tests.studio.swingers import SHINGLE
from tests.suggesting.films import drawn
from tests.suggesting.moments import found_in

Floats = NDArray[np.float64]

networks = pytest.mark.skipif(not can_suggest(), reason="the extra `suggest` is not installed")
TIMES = np.arange(0, 2.4, 1 / 60)
# seconds and heights of hands: at rest, up by 1.0, at the top about 1.1, down at 1.4, up, at rest from 2.0
SWING = ((0.0, -0.4), (0.3, -0.4), (1.0, 1.4), (1.1, 1.5), (1.2, 1.4), (1.4, -0.35), (1.6, 1.8), (2.0, 1.2))


def hands(*more: tuple[float, float]) -> Floats:
    at, high = zip(*sorted({**dict(SWING), **dict(more)}.items()), strict=True)
    return np.asarray(np.interp(TIMES, at, high))


def changes(high: Floats) -> list[Change]:
    """In grey levels thirty times as much as the hands go, none at rest."""
    moved = 30 * np.abs(np.diff(high))
    return [Change(frame, float(by), float(by), 0.0) for frame, by in enumerate(moved, 1)]


def test_moments_lie_where_the_hands_rise_turn_and_are_lowest() -> None:
    high = hands()
    found = moments(TIMES, changes(high), high)
    at = {name: float(TIMES[moment.frame]) for name, moment in found.items()}
    assert list(found) == ["setup", "start", "halfway", "top", "delivery", "impact", "finish"]
    assert at["setup"] == pytest.approx(0.3, abs=0.02)
    assert at["start"] == pytest.approx(at["setup"] + 1 / 60)
    assert at["top"] == pytest.approx(1.1, abs=0.1)
    assert at["impact"] == pytest.approx(1.4, abs=0.02)
    assert at["finish"] == pytest.approx(2.0, abs=0.02)
    assert at["halfway"] < at["top"] < at["delivery"] < at["impact"]


def test_the_picture_before_the_ball_leaves_is_impact_where_it_leaves_about_then() -> None:
    high = hands()
    low = moments(TIMES, changes(high), high)["impact"].frame
    by_ball = moments(TIMES, changes(high), high, low + 2)["impact"]
    assert (by_ball.frame, by_ball.within) == (low + 2, 1)
    assert moments(TIMES, changes(high), high, low - 40)["impact"].frame == low


def test_a_rehearsal_before_the_swing_leaves_no_moment() -> None:
    """Nothing says which of the two is meant."""
    twice = np.concatenate([hands(), hands()])
    times = np.arange(len(twice)) / 60
    assert moments(times, changes(twice), twice) == {}


def test_hands_that_come_down_slowly_or_stay_down_are_no_swing() -> None:
    times = np.arange(0, 6, 1 / 60)
    for then in (((4.0, -0.35), (4.2, 1.6)), ((1.4, -0.35), (4.0, -0.3), (4.2, 1.6))):
        at, high = zip(*(*SWING[:4], (1.2, 1.4), *then, (6.0, 1.5)), strict=True)
        slow = np.interp(times, at, high)
        assert moments(times, changes(slow), slow) == {}


def test_hands_that_only_waggle_are_no_swing() -> None:
    waggling = 0.2 * np.sin(TIMES * 9) - 0.3
    assert moments(TIMES, changes(waggling), waggling) == {}


def test_without_a_body_the_curve_of_change_speaks_with_a_wider_one() -> None:
    high = hands()
    found = moments(TIMES, changes(high), None)
    assert found
    assert set(found) <= set(BY_CHANGE)
    assert found["impact"].within >= moments(TIMES, changes(high), high)["impact"].within


def test_hands_are_not_known_in_a_long_gap_between_looks() -> None:
    at = [np.array([0.0, y]) for y in (0.0, 100.0, 0.0)]
    seen = {frame: Seen(at[0], at[1], at[2]) for frame in (0, 2, 30)}
    high = heights(seen, TIMES[:40])
    assert np.isfinite(high[[0, 1, 2, 30]]).all()
    assert not np.isfinite(high[[10, 35]]).any()
    assert high[1] == pytest.approx(1.0)


def test_a_fast_film_is_looked_at_sixty_times_a_second() -> None:
    assert frames_looked_at(np.arange(24) / 240) == [0, 4, 8, 12, 16, 20]
    assert frames_looked_at(np.arange(3) / 30) == [0, 1, 2]


def turf(count: int) -> NDArray[np.uint8]:
    noise = np.random.default_rng(4).normal(90, 2, (count, 120, 160))
    return np.asarray(noise.clip(0, 255), dtype=np.uint8)


def test_a_ball_lies_there_until_it_is_gone() -> None:
    pictures = turf(30)
    pictures[:18, 80:88, 60:68] = 230
    assert last_with_ball(pictures, 16, 100.0) == 17


def test_what_goes_slowly_or_comes_back_is_no_ball() -> None:
    slowly, back = turf(30), turf(30)
    for frame in range(30):
        slowly[frame, 80:88, 60 + frame : 68 + frame] = 230
    back[:18, 80:88, 60:68] = 230
    back[22:25, 80:88, 60:68] = 230
    assert last_with_ball(slowly, 16, 100.0) is None
    assert last_with_ball(back, 16, 100.0) is None


def test_what_fades_over_some_pictures_is_no_ball() -> None:
    pictures = turf(30)
    pictures[:13, 80:88, 60:68] = 230
    pictures[13:18, 80:88, 60:68] = 160
    assert last_with_ball(pictures, 16, 100.0) is None


def test_two_balls_that_leave_at_different_times_say_nothing() -> None:
    pictures = turf(30)
    pictures[:18, 80:88, 60:68] = 230
    pictures[:16, 40:48, 120:128] = 230
    assert last_with_ball(pictures, 16, 100.0) is None


@networks
def test_moments_of_a_drawn_swing_are_within_their_pictures() -> None:
    tried = found_in(drawn("shingle", SHINGLE, "face-on"))
    assert {one.moment for one in tried} >= {"setup", "halfway", "top", "impact", "finish"}
    assert [one for one in tried if abs(one.off) > one.within] == []
