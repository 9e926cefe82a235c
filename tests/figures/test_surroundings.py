"""What of the body tags keep clear of, and what is blurred."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from lessonpress.figures.bind.surroundings import KEEP_CLEAR, OBSCURED, TALL, keep_clear, obscured, stature_px
from lessonpress.records.problem import Location, Problems

PLACED = {"head": (600.0, 200.0), "lead-toe": (640.0, 900.0), "navel": (610.0, 500.0)}


def filmed(
    scale: float | None = 400.0,
    stature: float | None = None,
    obscure: tuple[tuple[str, float | None], ...] = (),
    u: float = 0.0,
) -> Any:
    card = SimpleNamespace(
        stature=None if stature is None else SimpleNamespace(metres=stature),
        obscured=obscure,
        location_of=lambda key, number: Location("clip.yaml", 9, number + 1),
    )
    survey = SimpleNamespace(
        px_per_metre=lambda: scale, position=lambda at: PLACED[at.mark], placed_within=lambda _: u
    )
    return SimpleNamespace(
        card=card,
        survey=survey,
        index=SimpleNamespace(size=(1280, 1000)),
        sees=lambda mark, _: mark in PLACED,
    )


def test_a_golfer_is_as_tall_as_card_and_scale_say_or_as_usual() -> None:
    assert stature_px(filmed(400.0, 1.9)) == pytest.approx(760)
    assert stature_px(filmed(400.0)) == pytest.approx(700)
    assert stature_px(filmed(None, 1.9)) == TALL * 1000


def test_squares_about_head_and_toe_are_kept_clear_and_the_navel_is_not() -> None:
    head, toe = keep_clear(filmed(), 0)
    half = 700 * KEEP_CLEAR["head"]
    assert head == pytest.approx((600 - half, 200 - half, 600 + half, 200 + half))
    assert (toe[0] + toe[2], toe[1] + toe[3]) == pytest.approx((1280, 1800))


def test_what_the_card_wants_blurred_is_blurred_where_it_is() -> None:
    problems = Problems()
    assert obscured(filmed(obscure=(("head", None),)), 96, problems) == (((600.0, 200.0), OBSCURED * 700),)
    assert problems.collected == []


def test_a_face_that_is_placed_nowhere_is_an_error_and_never_shown_unnoticed() -> None:
    problems = Problems()
    assert len(obscured(filmed(obscure=(("head", None), ("trail-eye", None))), 96, problems)) == 1
    (error,) = problems.errors
    assert error.location == Location("clip.yaml", 9, 2)
    assert error.wrong == "`trail-eye` is to be obscured and is not placed on frame 96, which a figure shows"


def test_a_region_is_as_wide_as_the_card_says_and_a_disc_reaches_as_far_as_its_mark_may_be_off() -> None:
    problems = Problems()
    region, head = obscured(filmed(obscure=(("navel", 300.0), ("head", None)), u=4.0), 96, problems)
    assert region == ((610.0, 500.0), 150.0 + 8.0)
    assert head[1] == pytest.approx(OBSCURED * 700 + 8.0)
    assert problems.collected == []


def test_a_mark_that_is_hardly_known_is_refused() -> None:
    problems = Problems()
    assert obscured(filmed(obscure=(("head", None),), u=50.0), 96, problems) == ()
    (error,) = problems.errors
    assert error.wrong == "`head` is to be obscured, and is known on frame 96 to ± 100 px alone"
