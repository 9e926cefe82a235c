"""What is kept for which choice of a reader."""

from __future__ import annotations

import pytest

from lessonpress.records import Reading, other_readings, shown_in

SWAPPED, TURNED, BOTH = other_readings("in")


@pytest.mark.parametrize(
    ("otherwise", "kept"),
    [
        ([], [("", "a")]),
        ([(SWAPPED, "b"), (BOTH, "b")], [("in", "a"), ("cm", "b")]),
        ([(TURNED, "b"), (BOTH, "b")], [("filmed", "a"), ("turned", "b")]),
        (
            [(SWAPPED, "b"), (TURNED, "c"), (BOTH, "d")],
            [("in filmed", "a"), ("cm filmed", "b"), ("in turned", "c"), ("cm turned", "d")],
        ),
    ],
    ids=["all is one", "units decide", "the side decides", "both do"],
)
def test_a_page_holds_no_more_than_what_differs(
    otherwise: list[tuple[Reading, str]], kept: list[tuple[str, str]]
) -> None:
    assert list(shown_in("a", otherwise)) == kept


def test_the_units_of_a_site_in_centimetres_come_first() -> None:
    swapped = Reading("cm", swapped=True)
    assert shown_in("a", [(swapped, "b"), (Reading("cm", True, True), "b")]) == (("cm", "a"), ("in", "b"))


def test_a_number_asked_for_in_other_units_stays_one_in_the_units_that_the_reader_has_not() -> None:
    """In a site in inches, "4 in (10 cm)" is "10 cm (4 in)" for a reader with centimetres."""
    own, swapped = Reading("in"), Reading("in", swapped=True)
    assert [own.units_of(form) for form in ("", "in", "cm")] == ["in", "in", "cm"]
    assert [swapped.units_of(form) for form in ("", "in", "cm")] == ["cm", "cm", "in"]
