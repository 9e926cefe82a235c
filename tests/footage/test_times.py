"""A picture's real time follows from the file, the rate it was filmed at, and what is shown twice."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from lessonpress.footage.timing.times import pace_within, real_times
from lessonpress.footage.video.failure import FootageError

EVEN = tuple(number / 30 for number in range(13))


def test_a_file_at_lifes_speed_keeps_its_own_times() -> None:
    variable = (0.0, 0.03, 0.11, 0.12)
    assert real_times(variable) == variable


def test_a_rate_stretches_time_from_frame_0() -> None:
    """240 pictures a second shown at 30: frame 12 is 0.05 s of life."""
    assert real_times(EVEN, 240)[12] == pytest.approx(12 / 240)


def test_pieces_of_a_slowed_file_each_keep_their_rate() -> None:
    found = real_times(EVEN, [(0, 30), (4, 240), (8, 30)])
    assert found[4] == pytest.approx(4 / 30)
    assert found[8] == pytest.approx(4 / 30 + 4 / 240)
    assert found[12] == pytest.approx(4 / 30 + 4 / 240 + 4 / 30)


def test_a_picture_that_is_missing_from_a_slowed_file_counts() -> None:
    gap = EVEN[:6] + tuple(time + 1 / 30 for time in EVEN[6:])
    assert real_times(gap, 240)[12] == pytest.approx(13 / 240)


def test_repeats_keep_the_time_of_the_picture_they_repeat() -> None:
    """Film at 24 shown at 30, one picture in five twice: frames 4 and 9 repeat 3 and 8."""
    found = real_times(EVEN[:11], repeats=(4, 9))
    assert found[4] == found[3]
    assert found[9] == found[8]
    steps = [late - early for early, late in pairwise(found) if late > early]
    assert steps == pytest.approx([EVEN[10] / 8] * 8)
    assert steps[0] == pytest.approx(1 / 24)


def test_repeats_of_a_slowed_file_take_no_time() -> None:
    assert real_times(EVEN[:7], 120, repeats=(1, 3, 5)) == pytest.approx(
        [0, 0, 1 / 120, 1 / 120, 2 / 120, 2 / 120, 3 / 120]
    )


@pytest.mark.parametrize(
    "pieces", [[(1, 30.0)], [(0, 30.0), (0, 60.0)], [(0, 30.0), (9, 0.0)], [(0, -1.0)], []]
)
def test_pieces_out_of_order_and_rates_of_nothing_are_refused(pieces: list[tuple[int, float]]) -> None:
    with pytest.raises(FootageError):
        real_times(EVEN, pieces)


# the pace of captured pictures among repeated ones


def shown_at(rate: float, phase: float, count: int, fps: float = 30) -> tuple[int, ...]:
    """The repeats of a file that shows, at each of its pictures, the one captured last at an even rate."""
    captured = np.floor(np.arange(count) * rate / fps + phase)
    return tuple(int(frame) + 1 for frame in np.flatnonzero(np.diff(captured) == 0))


def test_irregular_repeats_give_a_pace_between_limits_that_hold_the_true_one() -> None:
    """Rates and phases of every kind that keep no beat: what a picture's time of the file leaves open."""
    generator = np.random.default_rng(2)
    tried = 0
    for _ in range(400):
        rate, phase, count = generator.uniform(14, 29.6), generator.uniform(), int(generator.integers(20, 80))
        repeats, times = shown_at(rate, phase, count), tuple(n / 30 for n in range(count))
        within = pace_within(times, None, repeats)
        if not repeats or within == 0:
            continue
        found = real_times(times, None, repeats)
        pace = max(late - early for early, late in pairwise(found))
        assert within is not None
        assert abs(pace - 1 / rate) <= within * pace + 1e-9
        assert within < 2.5 / count
        tried += 1
    assert tried > 200


def test_times_that_are_exact_leave_no_doubt_of_their_pace() -> None:
    assert pace_within(EVEN) == 0
    assert pace_within(EVEN, 240) == 0
    assert pace_within(EVEN, 240, (3, 7)) == 0  # the card says the rate
    assert pace_within(EVEN[:11], None, (4, 9)) == 0  # a beat


def test_pictures_dropped_in_bursts_leave_no_even_pace_and_keep_the_file_s_times() -> None:
    """Six repeats in a row, then none: no rate captures so."""
    times, repeats = tuple(n / 30 for n in range(30)), (4, 5, 6, 7, 8, 9)
    assert pace_within(times, None, repeats) is None
    found = real_times(times, None, repeats)
    assert found[9] == found[3] == times[3]
    assert found[10] == times[10]
