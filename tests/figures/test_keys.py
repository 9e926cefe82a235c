"""The lines under a plate: one for each letter, with every number that it names."""

from __future__ import annotations

from dataclasses import replace

from lessonpress.figures.plates import DrawnOverlay, Panel
from lessonpress.figures.words.keys import keys_of
from lessonpress.overlays.shapes import Tag
from tests.drawing import sample
from tests.pages.factory import measure

SHIFT = sample.shift("B", (300.0, 400.0), (340.0, 400.0))
LINE = sample.vertical("A", (300.0, 400.0))


def panels(*drawn: tuple[DrawnOverlay, ...]) -> list[Panel]:
    return [sample.panel_of(*overlays) for overlays in drawn]


def test_letters_have_a_line_each_in_the_order_in_which_a_reader_meets_them() -> None:
    made = keys_of(panels((SHIFT,), (LINE, SHIFT)))
    assert [(key.letters, key.colour, key.words) for key in made] == [
        (("B",), "vermilion", "shift"),
        (("A",), "black", "vertical"),
    ]


def test_a_letter_of_several_pictures_carries_the_number_of_each_once() -> None:
    top, impact = (replace(SHIFT, measure=measure(name)) for name in ("hips.top", "hips.impact"))
    (key,) = keys_of(panels((top,), (impact,), (impact,)))
    assert key.measures == ("hips.top", "hips.impact")


def test_what_has_no_letter_has_no_line() -> None:
    """A grid, and what is measured without being drawn."""
    assert keys_of(panels((replace(LINE, letter=""),))) == ()


def test_a_remembered_line_is_printed_as_one() -> None:
    assert [key.blank for key in keys_of(panels((sample.standing("A", 300.0), SHIFT)))] == [True, False]


def test_words_of_tags_are_given_once_whatever_the_number_of_pictures() -> None:
    said = replace(LINE, shapes=(Tag((0.0, 0.0), "black", words="planted"),))
    assert [key.words for key in keys_of(panels((said,), (said,)))] == ["vertical, “planted”"]
