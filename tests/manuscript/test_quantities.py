"""Lengths, durations and angles are read with their units and no others."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.fields.quantities import angle, duration, exposure, length, pixels

# 1 in = 25.4 mm and 1 ft = 12 in exactly: international yard and pound agreement, 1959.
LENGTHS = [
    ("36 in", 0.9144),
    ("5 ft 10 in", 1.778),
    ("5 ft 10.5 in", 1.7907),
    ("14 ft", 4.2672),
    ("1.2 m", 1.2),
    ("91.4 cm", 0.914),
    ("914 mm", 0.914),
    ("914mm", 0.914),
    (".5 m", 0.5),
    ("-2 in", -0.0508),
    ("−2 in", -0.0508),
    ("-1 ft 6 in", -0.4572),
]


@pytest.mark.parametrize(("text", "metres"), LENGTHS)
def test_a_length_is_metres(text: str, metres: float) -> None:
    assert length(text).metres == pytest.approx(metres, rel=1e-12)


def test_a_length_keeps_the_words_it_was_written_in() -> None:
    assert str(length("5 ft  10 in")) == "5 ft 10 in"


@pytest.mark.parametrize(
    "text", ["", "36", "in", "36 yd", "5 ft 12 in", "1,2 m", "5'10\"", "1.2.3 m", "1e3 m", "nan m"]
)
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(InvalidValueError):
        length(text)


def test_durations_are_seconds_angles_degrees_and_pixels_pixels() -> None:
    assert duration("4 ms") == pytest.approx(0.004)
    assert duration("0.5 s") == 0.5
    assert duration("0 ms") == 0  # a global shutter reads all rows at once
    assert exposure("1/500 s") == pytest.approx(0.002)
    assert exposure("2 ms") == pytest.approx(0.002)
    assert angle("90 deg") == angle("90°") == 90.0
    assert pixels("1450 px") == 1450.0


@pytest.mark.parametrize(
    ("read", "text"),
    [
        (duration, "-1 s"),
        (duration, "4"),
        (exposure, "1/500"),
        (exposure, "1/0 s"),
        (angle, "90"),
        (pixels, "-3 px"),
    ],
)
def test_a_quantity_without_meaning_is_refused(read: object, text: str) -> None:
    assert callable(read)
    with pytest.raises(InvalidValueError):
        read(text)


@given(st.text(max_size=30))
def test_any_text_is_a_finite_length_or_refused(text: str) -> None:
    try:
        assert math.isfinite(length(text).metres)
    except InvalidValueError as refused:
        assert refused.right
