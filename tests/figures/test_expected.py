"""The range that a lesson expects, from its own words or from the site's, and the answer to it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.figures.drawn import lesson_of, told_of

TILT = "```frame\nid: hit\nat: impact\ndraw:\n  - tilt: [navel, c7]\n    as: lean\n    expect: {}\n```\n"


@pytest.mark.parametrize(
    ("range_", "answer"),
    [
        ("10..45 deg away", "inside"),
        ("10..20 deg away", "outside"),
        ("10..30 deg away", "at its edge"),
        ("-45..-10 deg", "inside"),
        ("10..45 deg toward", "outside"),
        ("lean", "inside"),
    ],
)
def test_a_range_is_answered_by_the_whole_interval(range_: str, answer: str, tmp_path: Path) -> None:
    """The line leans atan(70 / 123) = 29.6° away from the target, ± some 2.5°; `lean` is 25..35 deg away."""
    found = lesson_of(tmp_path, TILT.format(range_)).measures["lean"]
    assert found.value == pytest.approx(-29.6, abs=1.5) and 0.5 < (found.uncertainty or 0) < 5
    assert found.answer == answer


def test_a_range_of_the_site_says_where_it_comes_from(tmp_path: Path) -> None:
    lesson = lesson_of(tmp_path, TILT.format("lean"))
    assert lesson.measures["lean"].expect == "25..35 deg away (common practice)"


@pytest.mark.parametrize(
    ("range_", "wrong"),
    [
        ("1..3 in away", "`1..3 in away` is not of the measure's kind; this angle takes deg"),
        ("25..35 deg", "`25..35 deg` does not say which way; write `25..35 deg toward` or `25..35 deg away`"),
        ("25..35 deg up", "`up` is not a direction of this measure; write toward or away"),
        ("laen", "`laen` is not a range; ranges with a name are written in site.yaml"),
    ],
)
def test_a_range_that_does_not_fit_is_reported_at_its_place(range_: str, wrong: str, tmp_path: Path) -> None:
    told = told_of(tmp_path, TILT.format(range_))
    assert told.startswith(f"lessons/lesson.md:12:13: {wrong}")
