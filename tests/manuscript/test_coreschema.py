"""Plain scalars resolve as YAML 1.2.2, chapter 10.3 (core schema), says."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.manuscript.yaml.coreschema import tag_of, value_of

# YAML 1.2.2, table in 10.3.2 (tag resolution), a row of cases for each of its rows; from memory.
TABLE = [
    ("null", ["null", "Null", "NULL", "~", ""]),
    ("bool", ["true", "True", "TRUE", "false", "False", "FALSE"]),
    ("int", ["0", "12", "-19", "+7", "007", "0o7", "0o14", "0x3A", "0xff"]),
    ("float", ["0.", "-0.0", ".5", "+12e03", "-2E+05", "1.5e-3", "12.", ".inf", "-.Inf", "+.INF"]),
    ("float", [".nan", ".NaN", ".NAN"]),
    ("str", ["nULL", "tRUE", "yes", "Yes", "no", "No", "on", "off", "y", "n", "12:30:10", "190:20:30"]),
    ("str", ["1_000", "0b101", "+0x1", "-0o7", ".", "+", "-", "e3", "1e", ".e3", "inf", "nan", "-.nan"]),
    ("str", ["2026-11-23", "<<", "=", "0o8", "0xg", "1.2.3", "12 ", "1,5"]),
]
CASES = [(text, tag) for tag, texts in TABLE for text in texts]


@pytest.mark.parametrize(("text", "tag"), CASES)
def test_a_plain_scalar_resolves_to_the_tag_of_the_table(text: str, tag: str) -> None:
    assert tag_of(text) == tag


# YAML 1.2.2, example 10.9, with the values its example 10.8 counterpart in JSON gives; from memory.
EXAMPLE = {
    "null": None,
    "true": True,
    "True": True,
    "false": False,
    "FALSE": False,
    "0": 0,
    "0o7": 7,
    "0x3A": 58,
    "-19": -19,
    "0.": 0.0,
    "-0.0": -0.0,
    ".5": 0.5,
    "+12e03": 12000.0,
    "-2E+05": -200000.0,
    ".inf": math.inf,
    "-.Inf": -math.inf,
    "+.INF": math.inf,
}


@pytest.mark.parametrize(("text", "value"), EXAMPLE.items())
def test_a_plain_scalar_has_the_value_of_the_example(text: str, value: object) -> None:
    assert value_of(text) == value
    assert type(value_of(text)) is type(value)


def test_nan_is_a_number_that_is_none() -> None:
    value = value_of(".NAN")
    assert isinstance(value, float)
    assert math.isnan(value)


def test_a_number_too_long_to_be_meant_stays_text() -> None:
    assert value_of("9" * 5000) == "9" * 5000


@given(st.integers())
def test_every_integer_that_is_written_is_read_back(number: int) -> None:
    assert value_of(str(number)) == number


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_every_number_that_is_written_is_read_back(number: float) -> None:
    assert value_of(repr(number)) == number


@given(st.text(max_size=40))
def test_any_text_resolves_to_something(text: str) -> None:
    assert tag_of(text) in ("null", "bool", "int", "float", "str")
    value_of(text)


def test_a_whole_number_too_large_for_a_float_stays_text() -> None:
    assert value_of("0x" + "f" * 290) == "0x" + "f" * 290
