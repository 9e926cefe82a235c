"""A swing drawn from above is true to scale, the same way round as a picture from face on."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from lessonpress.drawing import plan_svg
from lessonpress.drawing.plan import BAR, plan_height
from lessonpress.figures.plates import Credit, FloorPlan, Moment
from lessonpress.measure import Spot
from lessonpress.pages import credits_of
from tests.drawing.reading import of_class, parsed
from tests.pages import factory

ROUND = (0.05, 0.05, 0.0)
SPOTS = (
    Spot("trail-hip", (-0.2, -0.1), ROUND),
    Spot("lead-hip", (0.2, -0.1), ROUND),
    Spot("trail-shoulder", (-0.3, 0.2), ROUND),
    Spot("lead-shoulder", (0.3, 0.2), ROUND),
    Spot("trail-heel", (-0.25, -0.1), ROUND),
    Spot("trail-toe", (-0.25, 0.2), ROUND),
    Spot("implement-grip", (0.0, 0.3), ROUND),
    Spot("lead-wrist", (0.05, 0.3), ROUND),
    Spot("implement-head", (0.05, 0.8), (0.12, 0.03, 90.0)),
)
PLAN = FloorPlan("The swing from above", (Moment("Setup", SPOTS), Moment("Top", SPOTS[:4])), 1)
HIPS, SHOULDERS, SHAFT = 0, 1, 2
NUMBER = r"-?[\d.]+"


def lines(svg: str) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    found = []
    for line in of_class(parsed(svg), "line"):
        x0, y0, x1, y1 = (float(one) for one in re.findall(NUMBER, line.attrib["d"]))
        found.append(((x0, y0), (x1, y1)))
    return found


def drawn(target: int = 1, width: float = 640.0, units: str = "in") -> str:
    return plan_svg(FloorPlan(PLAN.name, PLAN.moments, target), width, units)  # type: ignore[arg-type]


@pytest.mark.parametrize("width", [340.0, 640.0])
def test_lengths_are_those_of_the_bar(width: float) -> None:
    """Shoulders of 0.6 m, against the bar of a foot and that of 30 cm."""
    for units in ("in", "cm"):
        svg = drawn(width=width, units=units)
        start, end = lines(svg)[SHOULDERS]
        bar = next(e for e in parsed(svg).iter() if re.match(r"M1 [\d.]+v8", e.attrib.get("d", "")))
        right = float(re.findall(r"H([\d.]+)", bar.attrib["d"])[0])
        assert math.dist(start, end) / (right - 1) == pytest.approx(0.6 / BAR[units][0], rel=0.02)  # type: ignore[index]


def test_the_target_is_where_it_is_face_on_and_the_ball_is_below() -> None:
    for target in (1, -1):
        (trail, lead), shaft = lines(drawn(target))[HIPS], lines(drawn(target))[SHAFT]
        assert target * (lead[0] - trail[0]) > 0
        assert shaft[1][1] > shaft[0][1] > trail[1]


def test_every_known_part_has_its_ellipse_and_hands_have_one() -> None:
    """Both wrists and the grip are one pair of hands."""
    bands = of_class(parsed(drawn()), "band")
    shown = {spot.mark for spot in SPOTS} - {"lead-wrist"}
    assert len(bands) == len(shown) + 4 + 1  # those of the second moment, and that of the key


def test_an_ellipse_lies_as_its_point_is_known() -> None:
    """The clubhead is known worst toward the ball, which is down the drawing."""
    svg = drawn()
    head = next(
        e for e in of_class(parsed(svg), "band") if abs(float(e.attrib["d"].split("A")[1].split()[2])) == 90
    )
    _, _, long, short = (float(one) for one in re.findall(NUMBER, head.attrib["d"])[:4])
    assert long / short == pytest.approx(4, rel=0.05)


def test_all_of_it_lies_within_the_drawing() -> None:
    for width in (340.0, 640.0):
        for start, end in lines(drawn(width=width)):
            for x, y in (start, end):
                assert 0 <= x <= width and 0 <= y <= plan_height(PLAN, width)


def test_a_mark_that_is_not_known_is_not_drawn() -> None:
    svg = plan_svg(FloorPlan("", (Moment("Top", SPOTS[2:4]),), 1), 640.0, "in")
    assert len(lines(svg)) == 1 + 2  # the shoulders, and two of the key


def test_whose_footage_a_plan_was_measured_from_is_said_with_its_plate() -> None:
    mine = Credit("Marram Studio", "CC BY 4.0")
    plate = replace(factory.plate("above", "VI", 30, []), plan=replace(PLAN, credits=(mine,)))
    assert credits_of([plate]) == ((("VI",), mine),)
