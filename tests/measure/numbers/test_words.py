"""Ranges, signs, posture and units: small tables and what they say."""

from __future__ import annotations

import pytest

from lessonpress.measure.body.posture import posture
from lessonpress.measure.numbers.ranges import answer, inner_range
from lessonpress.measure.numbers.signs import way
from lessonpress.measure.numbers.units import in_print, unit_of
from lessonpress.records.mark import KNOWN_MARKS
from lessonpress.records.view import View


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (26, 34, "inside"),
        (25, 35, "inside"),
        (24, 30, "at its edge"),
        (35, 40, "at its edge"),
        (36, 40, "outside"),
        (10, 24, "outside"),
        (20, 40, "at its edge"),
    ],
)
def test_a_measure_is_inside_only_with_its_whole_interval(low: float, high: float, expected: str) -> None:
    """A range of 25 to 35: inside and outside need all of ±, the rest is at its edge."""
    assert answer(low, high, 25, 35) == expected


def test_a_range_takes_its_sign_from_its_word() -> None:
    """25..35 deg away is −35 to −25; 8..14 in toward is 0.2032 m to 0.3556 m (1 in = 25.4 mm, 1959)."""
    assert inner_range(25, 35, "deg", "away") == (-35, -25)
    assert inner_range(8, 14, "in", "toward") == pytest.approx((0.2032, 0.3556))
    assert inner_range(0, 1, "in", "up") == pytest.approx((0, 0.0254))
    assert inner_range(-1, 1, "in") == pytest.approx((-0.0254, 0.0254))


def test_directions_are_given_in_words() -> None:
    """Positive is toward the goal and up; nothing is said of zero and of straight lengths."""
    assert way(1, "level", "target") == "toward the target"
    assert way(-1, "level", "ball") == "away from the ball"
    assert (way(1, "plumb", "target"), way(-1, "plumb", "target")) == ("up", "down")
    assert (way(0, "level", "target"), way(1, "straight", "target"), way(1, None, "target")) == ("", "", "")


def test_a_few_rows_of_the_posture_table() -> None:
    """Face-on and down the line, in fractions of stature."""
    hip = posture("lead-hip", "face-on")
    assert (hip.depth, hip.shared, hip.per_frame) == (-0.03, 0.05, 0.04)
    assert posture("trail-hip", "down-the-line").depth == 0.09
    assert posture("lead-hip", "down-the-line").depth == -0.08
    assert posture("lead-knee", "down-the-line").depth == -posture("trail-knee", "down-the-line").depth
    assert (
        posture("lead-wrist", "down-the-line").depth == posture("trail-wrist", "down-the-line").depth == 0.14
    )
    assert posture("ball", "face-on").depth == 0.42


@pytest.mark.parametrize("mark", KNOWN_MARKS)
@pytest.mark.parametrize(("view", "opposite"), [("face-on", "from-behind"), ("down-the-line", "from-target")])
def test_the_opposite_view_turns_every_sign_round(mark: str, view: View, opposite: View) -> None:
    """What is near the camera from one side is as far from it from the other, as uncertainly."""
    here, there = posture(mark, view), posture(mark, opposite)
    assert here.depth == -there.depth
    assert (here.shared, here.per_frame) == (there.shared, there.per_frame)


def test_units_follow_the_site() -> None:
    """Inches or centimetres, mph or m/s; angles are degrees on both. 1 mph = 0.44704 m/s exactly (1959)."""
    assert (unit_of("length", "in"), unit_of("length", "cm")) == ("in", "cm")
    assert (unit_of("speed", "in"), unit_of("speed", "cm")) == ("mph", "m/s")
    assert in_print(0.44704, "speed", "in") == pytest.approx(1)
    assert in_print(0.0254, "length", "cm") == pytest.approx(2.54)
    assert in_print(30, "angle", "in") == 30
