"""A picture's real time follows from the file, the rate it was filmed at, and what is shown twice."""

from __future__ import annotations

from itertools import pairwise

import pytest

from lessonpress.footage.failure import FootageError
from lessonpress.footage.times import real_times

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
