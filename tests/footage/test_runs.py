"""What the pictures before and after contradict is not suggested."""

from __future__ import annotations

from collections.abc import Callable

from lessonpress.footage.pose.runs import SWAPPED, without_swaps
from lessonpress.footage.pose.suggesting import Suggestion
from lessonpress.records.mark import Observation

Place = tuple[float, float]
U = 5.0


def film(count: int, **marks: Callable[[int], Place]) -> list[Suggestion]:
    """marks: their places by frame, with _ for the hyphen."""
    return [
        Suggestion(
            frame,
            tuple(
                Observation(mark.replace("_", "-"), frame, *place(frame), U, suggested=True)
                for mark, place in marks.items()
            ),
        )
        for frame in range(count)
    ]


def missing(found: list[Suggestion]) -> dict[int, dict[str, str]]:
    return {one.frame: dict(one.missing) for one in found if one.missing}


def test_a_mark_that_goes_fast_and_straight_or_round_is_kept() -> None:
    swinging = film(20, navel=lambda n: (40.0 * n, 300.0), lead_wrist=lambda n: (30.0 * n, 0.5 * n * n))
    assert without_swaps(swinging) == swinging


def test_sides_that_change_places_in_one_picture_are_both_taken_out() -> None:
    def knee(side: int) -> Callable[[int], Place]:
        return lambda n: (300.0 + (side if n != 5 else -side) * 60.0 + n, 400.0 + 0.5 * (n % 2))

    assert missing(without_swaps(film(12, lead_knee=knee(1), trail_knee=knee(-1)))) == {
        5: {"lead-knee": SWAPPED, "trail-knee": SWAPPED}
    }


def test_a_limb_that_is_longer_in_a_few_pictures_is_taken_out_there() -> None:
    """Each of its ends goes on smoothly; so only the length between them tells."""
    long = film(
        80,
        lead_knee=lambda n: (200.0, 400.0),
        lead_ankle=lambda n: (200.0, 500.0 + 10.0 * max(0, n - 74)),
    )
    assert set(missing(without_swaps(long))) == {78, 79}


def test_pictures_of_single_events_say_nothing_of_one_another() -> None:
    apart = [
        one for one in film(60, navel=lambda n: (300.0 + 90.0 * (n == 20), 300.0)) if one.frame % 20 == 0
    ]
    assert without_swaps(apart) == apart
