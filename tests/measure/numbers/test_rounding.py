"""How many digits a number is printed with."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.measure.numbers.rounding import clock_words, printed, printed_clock, rounded_pm


@pytest.mark.parametrize(
    ("uncertainty", "pm"),
    [
        (0.55, "0.6"),
        (0.34, "0.4"),
        (0.31, "0.3"),
        (0.143, "0.14"),
        (0.0256, "0.026"),
        (0.0996, "0.10"),
        (0.95, "1.0"),
        (2.96, "3"),
        (2.6, "2.6"),
        (14.2, "14"),
        (9.96, "10"),
    ],
)
def test_pm_has_two_figures_only_after_a_one_or_a_two(uncertainty: float, pm: str) -> None:
    """The rule of formats.md, inside JCGM 100:2008, 7.2.6 (at most two significant digits)."""
    assert f"{rounded_pm(uncertainty)[0]:f}" == pm


def test_the_gum_prints_its_own_example_so() -> None:
    """JCGM 100:2008, 7.2.6: y = 10.057 62 Ω with u = 27 mΩ is rounded to 10.058 Ω (from memory)."""
    shown = printed(10.05762, 0.027, "ratio", "in")
    assert (shown.value, shown.pm) == ("10.058", "0.027")


def test_a_shift_is_printed_as_the_format_says() -> None:
    """−4.02 in ± 0.55 becomes −4.0 in ± 0.6, with a true minus sign."""
    shown = printed(-4.02 * 0.0254, 0.55 * 0.0254, "length", "in")
    assert shown.text == "\u22124.0 in ± 0.6"
    assert shown.size == "4.0"


def test_centimetres_are_exact() -> None:
    """1 in = 2.54 cm (international yard and pound agreement, 1959): 4.02 in ± 0.59 is 10.2 cm ± 1.5."""
    shown = printed(4.02 * 0.0254, 0.59 * 0.0254, "length", "cm")
    assert shown.text == "10.2 cm ± 1.5"


def test_miles_per_hour_are_exact() -> None:
    """1 mph = 0.44704 m/s, from the same agreement: 120 mph is 53.6448 m/s."""
    assert printed(53.6448, 3 * 0.44704, "speed", "in").text == "120 mph ± 3"


def test_degrees_are_set_close_to_their_number() -> None:
    """30° ± 2.6: no space before the degree sign, and a value never more exact than its ±."""
    assert printed(29.96, 2.6, "angle", "in").text == "30.0° ± 2.6"


def test_a_value_that_rounds_to_zero_has_no_sign() -> None:
    """−0.04 in ± 0.6 is 0.0, not −0.0."""
    assert printed(-0.04 * 0.0254, 0.6 * 0.0254, "length", "in").value == "0.0"


def test_an_uncertainty_of_nothing_is_not_printed() -> None:
    """A number that claims to be exact is a fault, not a print."""
    with pytest.raises(ValueError):
        printed(1.0, 0.0, "length", "in")


@given(st.floats(1e-6, 1e6))
def test_pm_is_never_rounded_down_by_more_than_five_percent(uncertainty: float) -> None:
    """± may grow, and shrinks by 5 % at most; it has one or two figures."""
    pm, step = rounded_pm(uncertainty)
    assert float(pm) >= 0.95 * uncertainty
    assert float(pm) <= 1.35 * uncertainty
    assert 1 <= len(str(int(pm / step))) <= 2


@pytest.mark.parametrize(
    ("degrees", "words"),
    [(0, "12:00"), (45, "1:30"), (90, "3:00"), (359, "12:00"), (358, "11:55"), (180, "6:00"), (345, "11:30")],
)
def test_a_direction_is_read_off_a_clock_face(degrees: float, words: str) -> None:
    """12 h = 360°, so one hour is 30° and one minute of the hour hand 0.5° (a clock face)."""
    assert clock_words(degrees) == words


@given(st.floats(0, 360, exclude_max=True))
def test_a_clock_time_is_good_to_five_minutes(degrees: float) -> None:
    """The time printed is within half a step of the direction."""
    hour, minute = map(int, clock_words(degrees).split(":"))
    back = (hour % 12) * 30 + minute * 0.5
    assert abs(math.remainder(back - degrees, 360)) <= 1.25 + 1e-9


def test_the_uncertainty_of_a_clock_time_is_never_under_its_step() -> None:
    """± five minutes at least, and rounded up to five minutes."""
    assert printed_clock(45, 1.0).pm == "0:05"
    assert printed_clock(45, 6.0).pm == "0:15"
