"""The contents list says of each plate what it shows."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lessonpress.figures.plates import Key
from lessonpress.pages.contents import contents
from lessonpress.pages.theme import Theme
from tests.pages.factory import at_impact, at_setup, at_top, key, plate

WORDS = Theme.named().words("en")
STANDING = key("A", "ink", "Vertical through the navel")
TRAVEL = key("B", "vermilion", "Shift of the navel since setup", "navel-through")
LEAN = key("C", "blue", "Tilt, navel to C7", "spine-tilt")


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ((), "Impact"),
        ((STANDING,), "Impact: vertical through the navel"),
        ((STANDING, TRAVEL), "Impact: shift of the navel since setup"),
        ((STANDING, TRAVEL, LEAN), "Impact: shift of the navel since setup and one more"),
        ((key("A", "black", "C7 at rest"),), "Impact: C7 at rest"),
    ],
)
def test_a_plate_is_called_by_its_moment_and_what_it_measures_or_else_draws(
    keys: tuple[Key, ...], said: str
) -> None:
    assert contents([plate("a", "I", 5, [at_impact()], keys=keys)], WORDS) == {"a": said}


def test_several_moments_are_two_or_the_first_and_the_last() -> None:
    two = plate("a", "I", 5, [at_setup(), at_top()], keys=(LEAN,))
    three = plate("b", "II", 9, [at_setup(), at_top(), at_impact()], keys=(LEAN,))
    again = plate("c", "III", 12, [at_top(), at_top()], kind="pair", keys=(LEAN,))
    assert contents([two, three, again], WORDS) == {
        "a": "Setup and top: tilt, navel to C7",
        "b": "Setup to impact: tilt, navel to C7",
        "c": "Top: tilt, navel to C7",
    }


def test_plates_that_would_be_called_alike_say_whose_swing_they_show() -> None:
    other = replace(at_impact(), clip="shingle-face-on", title="Shingle, face-on, 7-iron")
    first = plate("a", "I", 5, [at_impact()], keys=(LEAN,))
    second = plate("b", "II", 9, [other], keys=(LEAN,))
    assert contents([first, second], WORDS) == {
        "a": "Impact: tilt, navel to C7 · Dune, face-on, 7-iron",
        "b": "Impact: tilt, navel to C7 · Shingle, face-on, 7-iron",
    }
