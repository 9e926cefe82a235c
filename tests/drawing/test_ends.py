"""Strokes and the signs at their ends."""

from __future__ import annotations

import math

import pytest

from lessonpress.drawing.strokes.ends import finished
from lessonpress.overlays.shapes import Pen, SignAt, Stroke

FRAME = (0.0, 0.0, 360.0, 450.0)


def test_a_stroke_ends_under_its_head_and_not_at_the_tip() -> None:
    """A barb of fifteen px takes some ten px from its stroke, so that the tip stays sharp."""
    stroke, barb = Stroke(((20.0, 50.0), (120.0, 50.0)), Pen("black")), SignAt("barb", (120.0, 50.0), "black")
    ((cut,), (tip,)) = finished([stroke], [barb], FRAME)
    assert cut.points[0] == (20.0, 50.0)
    assert 120 - cut.points[1][0] == pytest.approx(10.1, abs=0.2)
    assert tip == barb


@pytest.mark.parametrize("long", [20.0, 15.0, 9.0, 3.0])
def test_an_arrow_shorter_than_its_head_keeps_its_way(long: float) -> None:
    """The head is smaller, at least 8 px long, with its tip and its direction as they were."""
    stroke = Stroke(((20.0, 50.0), (20.0 + long, 50.0)), Pen("vermilion"))
    ((cut,), (tip,)) = finished([stroke], [SignAt("barb", (20.0 + long, 50.0), "vermilion", 0.0)], FRAME)
    assert (tip.sign, tip.at, tip.angle) == ("barb", (20.0 + long, 50.0), 0.0)
    assert tip.size is not None and 8 <= tip.size <= max(8, 0.75 * long)
    assert 20.0 <= cut.points[-1][0] <= 20.0 + long


def test_an_arrow_of_no_length_is_a_dot() -> None:
    """It points nowhere, and says so."""
    stroke = Stroke(((20.0, 50.0), (20.2, 50.0)), Pen("vermilion"))
    ((same,), (dot,)) = finished([stroke], [SignAt("barb", (20.2, 50.0), "vermilion")], FRAME)
    assert same == stroke
    assert (dot.sign, dot.at) == ("dot", (20.2, 50.0))


def test_a_curve_is_cut_back_over_its_short_pieces() -> None:
    """Where a path's last pieces are shorter than the head, they go and the path still ends under it."""
    points = tuple((20.0 + 4 * k, 50.0) for k in range(20))
    ((cut,), _) = finished([Stroke(points, Pen("purple"))], [SignAt("barb", points[-1], "purple")], FRAME)
    assert math.dist(cut.points[-1], points[-1]) == pytest.approx(10.1, abs=0.2)


def test_a_bob_below_the_picture_is_drawn_up_into_it() -> None:
    """A line that runs out below hangs its whole bob inside, on the same line."""
    stroke = Stroke(((100.0, -80.0), (124.0, 900.0)), Pen("black", 1.8, "standing"))
    ((hung,), (bob,)) = finished([stroke], [SignAt("hollow-bob", (124.0, 900.0), "black", 90)], FRAME)
    assert hung.points[0][1] == pytest.approx(10)
    assert bob.at[1] == pytest.approx(450 - 16)
    assert bob.at == hung.points[1]
    share = (bob.at[1] + 80) / 980
    assert bob.at[0] == pytest.approx(100 + 24 * share)
    assert bob.angle == pytest.approx(math.degrees(math.atan2(980, 24)))


def test_a_bob_inside_stays_where_it_is() -> None:
    """Nothing moves that shows whole already."""
    stroke, bob = (
        Stroke(((80.0, 60.0), (80.0, 400.0)), Pen("black")),
        SignAt("bob", (80.0, 400.0), "black", 90),
    )
    assert finished([stroke], [bob], FRAME) == ((stroke,), (bob,))
