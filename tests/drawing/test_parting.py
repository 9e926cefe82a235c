"""Arcs that would interlace, and numbers under what has none."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from lessonpress.drawing import plate_svg
from lessonpress.drawing.layout import Layout
from lessonpress.drawing.strokes.parting import APART, parted
from lessonpress.drawing.strokes.strokes import on_circle
from lessonpress.figures.plates import DrawnOverlay
from lessonpress.overlays.shapes import Arc, Pen
from tests.drawing import sample
from tests.drawing.reading import parsed, scene
from tests.pages.factory import measure as made_measure


def arc(
    x: float, radius: float = 60.0, *, colour: str = "green", free: bool = True, double: bool = True
) -> DrawnOverlay:
    shape = Arc((x, 300.0), radius, -80.0, 10.0, Pen(colour, 1.5), double=double, free=free)  # type: ignore[arg-type]
    return sample.drawn("A", "angle", "green", shape)


def only(drawn: DrawnOverlay) -> Arc:
    (shape,) = drawn.shapes
    assert isinstance(shape, Arc)
    return shape


def gap(one: Arc, other: Arc, layout: Layout) -> float:
    """CSS px between the nearest points of two single arcs, a point each degree."""
    rows = [
        np.array(
            [
                on_circle(layout.point(a.centre), layout.scale * a.radius, turn)
                for turn in np.arange(a.start, a.end + 1)
            ]
        )
        for a in (one, other)
    ]
    apart = rows[0][:, None] - rows[1][None]
    return float(np.hypot(apart[..., 0], apart[..., 1]).min())


@pytest.mark.parametrize("width", [190.0, 360.0, 640.0])
@pytest.mark.parametrize("between", [0.0, 12.0, 25.0, 60.0, 110.0])
def test_two_free_arcs_of_one_colour_do_not_run_into_each_other(between: float, width: float) -> None:
    """They are at least 8 px apart at every width of the picture, or else differ in their strokes."""
    layout = Layout((0, 0, 800, 1000), width)
    one, other = (only(drawn) for drawn in parted([arc(300.0), arc(300.0 + between)], layout))
    assert one == only(arc(300.0))
    assert gap(one, other, layout) >= APART - 5 or one.double != other.double


def test_an_arc_that_says_a_length_keeps_its_radius() -> None:
    """What is true to scale is never drawn smaller."""
    layout = Layout((0, 0, 800, 1000), 360.0)
    fixed = arc(310.0, free=False)
    assert only(parted([arc(300.0), fixed], layout)[1]) == only(fixed)


def test_arcs_of_other_colours_or_far_apart_are_left_alone() -> None:
    layout = Layout((0, 0, 800, 1000), 640.0)
    kept = [arc(100.0), arc(110.0, colour="blue"), arc(400.0)]
    assert parted(kept, layout) == tuple(kept)


def test_three_arcs_at_one_place_are_all_apart() -> None:
    layout = Layout((0, 0, 800, 1000), 640.0)
    arcs = [only(drawn) for drawn in parted([arc(300.0, 120.0, double=False)] * 3, layout)]
    assert all(gap(one, other, layout) >= APART - 1 for one, other in combinations(arcs, 2))
    assert len({one.radius for one in arcs}) == 3


def test_a_number_lies_over_what_carries_none() -> None:
    """A shift drawn before a plain arrow along it is not hidden by it."""
    shift = replace(sample.shift("E", (300.0, 500.0), (340.0, 500.0)), measure=made_measure("run"))
    plain = sample.arrow("F", (260.0, 500.0), (420.0, 500.0))
    root = parsed(plate_svg(sample.panel_of(shift, plain), 640, ids_prefix="a"))
    (live,) = (group for group in scene(root) if group.get("class") == "live")
    assert [group.get("data-letter") for group in live] == ["F", "E"]
