"""The contents list tells plates apart."""

from __future__ import annotations

from lessonpress.pages.contents import contents
from tests.pages.factory import at_impact, at_setup, at_top, key, plate

STANDING = key("A", "ink", "Vertical through the navel")
TRAVEL = key("B", "vermilion", "Shift of the navel since setup", "navel-through")


def test_a_plate_is_called_by_its_moments() -> None:
    plates = [plate("a", "I", 5, [at_setup()]), plate("b", "II", 9, [at_setup(), at_top()])]
    assert contents(plates) == {"a": "Setup", "b": "Setup, Top"}


def test_plates_of_one_moment_are_told_apart_by_what_they_measure() -> None:
    first = plate("a", "I", 5, [at_impact()], keys=(STANDING, TRAVEL))
    second = plate("b", "II", 9, [at_impact()], keys=(STANDING,))
    assert contents([first, second]) == {
        "a": "Impact: shift of the navel since setup",
        "b": "Impact: vertical through the navel",
    }


def test_a_plate_with_nothing_drawn_keeps_its_moment() -> None:
    twins = [plate("a", "I", 5, [at_impact()], keys=()), plate("b", "II", 9, [at_impact()], keys=())]
    assert contents(twins) == {"a": "Impact", "b": "Impact"}
