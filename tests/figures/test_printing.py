"""A measure as a page prints it, in every form."""

from __future__ import annotations

import pytest

from lessonpress.figures.words.printing import answer_words, lettered, range_words, text_of
from lessonpress.records import Reading
from tests.pages.factory import measure, refused

BACK = measure(expect="3..5 in away (common practice)", answer="inside")
UNSIGNED = measure("lean.difference", dimension="angle", value=-3.1, uncertainty=2.4, unit="deg", way="")


@pytest.mark.parametrize(
    ("form", "printed"),
    [
        ("", "4.0 in ± 0.6 away from the target"),
        ("size", "4.0 in ± 0.6"),
        ("value", "4.0 in"),
        ("bare", "4.0"),
        ("way", "away from the target"),
        ("cm", "10.2 cm ± 1.4 away from the target"),
        ("in", "4.0 in ± 0.6 away from the target"),
        ("answer", "inside 3 to 5 in"),
    ],
)
def test_a_measure_has_these_forms(form: str, printed: str) -> None:
    """−4.02 in ± 0.55; an inch is 2.54 cm (exactly, 1959)."""
    assert text_of(BACK, form, Reading("in")) == printed


def test_a_number_carries_its_sign_only_where_no_way_says_it() -> None:
    assert text_of(UNSIGNED, "bare", Reading("in")) == "−3.1"
    assert text_of(BACK, "bare", Reading("in")) == "4.0"


@pytest.mark.parametrize("form", ["", "size", "value", "bare", "way", "cm", "answer"])
def test_what_was_refused_has_no_number_in_any_form(form: str) -> None:
    assert text_of(refused(), form, Reading("in")) == "not measured"
    assert lettered(refused(), "in") is None


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("25..35 deg away", "25° to 35°"),
        ("-1..1 in", "−1 to 1 in"),
        ("2.5..3.5", "2.5 to 3.5"),
        ("30 .. 40 mph", "30 to 40 mph"),
        ("as ever", "as ever"),
    ],
)
def test_a_range_is_said_without_its_way(written: str, said: str) -> None:
    assert range_words(written) == said


@pytest.mark.parametrize(
    ("answer", "said"),
    [("inside", "inside 3 to 5 in"), ("at its edge", "at the edge of 3 to 5 in"), (None, "")],
)
def test_an_answer_is_said_with_its_range(answer: str | None, said: str) -> None:
    assert answer_words(measure(expect="3..5 in away", answer=answer)) == said
