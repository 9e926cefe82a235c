"""Expectations are ranges with a unit and, where a sign matters, a word or signs."""

from __future__ import annotations

import pytest

from lessonpress.manuscript.fields.expectations import Expectation, parse_expectation
from lessonpress.manuscript.fields.invalid_value import InvalidValueError

RANGES = [
    ("25..35 deg away", "deg", "away", (-35.0, -25.0), True),
    ("8..14 in toward", "in", "toward", (8.0, 14.0), True),
    ("0..1 in up", "in", "up", (0.0, 1.0), True),
    ("0..2 cm down", "cm", "down", (-2.0, 0.0), True),
    ("-1..1 in", "in", None, (-1.0, 1.0), True),
    ("−1 .. +1 in", "in", None, (-1.0, 1.0), True),
    ("65..90 deg", "deg", None, (65.0, 90.0), False),
    ("65..90°", "deg", None, (65.0, 90.0), False),
    ("120..130 mph", "mph", None, (120.0, 130.0), False),
    ("2.8..3.2", "", None, (2.8, 3.2), False),
    ("40..60 %", "%", None, (40.0, 60.0), False),
    ("10:30..11:00", "clock", None, (630.0, 660.0), False),
    ("11:30..1:00", "clock", None, (690.0, 780.0), False),
]


@pytest.mark.parametrize(("text", "unit", "way", "bounds", "signed"), RANGES)
def test_a_range_is_read(
    text: str, unit: str, way: str | None, bounds: tuple[float, float], signed: bool
) -> None:
    read = parse_expectation(text)
    assert isinstance(read, Expectation)
    assert (read.unit, read.way, read.bounds, read.signed) == (unit, way, bounds, signed)


@pytest.mark.parametrize(
    "text", ["", "4 in", "14..8 in", "8..14 yd", "8..14 in left", "-1..1 in up", "8...14 in"]
)
def test_what_is_no_range_is_refused(text: str) -> None:
    with pytest.raises(InvalidValueError):
        parse_expectation(text)
