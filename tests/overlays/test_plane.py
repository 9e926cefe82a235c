"""Plane geometry of the picture: y down, angles clockwise as seen."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.overlays.parts import plane
from lessonpress.records import Point

COORDINATE = st.floats(-2000, 2000)
POINT = st.tuples(COORDINATE, COORDINATE)
ANGLE = st.floats(-720, 720)


def test_headings_turn_clockwise_as_seen_from_the_picture_s_right() -> None:
    assert plane.heading((0, 0), (1, 0)) == 0
    assert plane.heading((0, 0), (0, 1)) == 90  # down
    assert plane.heading((0, 0), (0, -1)) == -90  # up


@given(POINT, ANGLE, st.floats(1, 1000))
def test_going_a_way_and_looking_back_gives_the_way_and_the_distance(
    start: Point, angle: float, distance: float
) -> None:
    end = plane.toward(start, angle, distance)
    assert plane.length(start, end) == pytest.approx(distance, rel=1e-6)
    assert math.cos(math.radians(plane.heading(start, end) - angle)) == pytest.approx(1, abs=1e-6)


@given(ANGLE, ANGLE)
def test_the_turn_between_two_headings_is_the_short_way_round(start: float, end: float) -> None:
    turn = plane.turn_between(start, end)
    assert -180 < turn <= 180
    assert math.cos(math.radians(start + turn - end)) == pytest.approx(1, abs=1e-9)


def test_lines_cross_where_both_pass_and_parallel_ones_never() -> None:
    assert plane.crossing(((0, 0), (2, 2)), ((0, 2), (2, 0))) == (1, 1)
    assert plane.crossing(((5, -9), (5, 9)), ((-9, 3), (9, 3))) == (5, 3)
    assert plane.crossing(((0, 0), (1, 1)), ((0, 5), (3, 8))) is None


def test_a_cut_line_ends_exactly_on_the_rows_and_keeps_its_bends() -> None:
    bent = ((10.0, -100.0), (20.0, 50.0), (40.0, 250.0))
    part = plane.cut(bent, 1, 0.0, 150.0)
    assert part[0] == pytest.approx((16.667, 0.0), abs=1e-3)
    assert part[1:] == ((20.0, 50.0), (30.0, 150.0))


def test_a_line_cut_by_columns_ends_exactly_on_them() -> None:
    assert plane.cut(((-100.0, 0.0), (100.0, 20.0)), 0, 0.0, 50.0) == ((0.0, 10.0), (50.0, 15.0))


def test_a_sector_begins_at_its_point_and_its_arc_ends_on_both_sides() -> None:
    sector = plane.sector((100.0, 100.0), 50.0, -95.0, -85.0)
    assert sector[0] == (100.0, 100.0)
    assert sector[1] == pytest.approx(plane.toward((100.0, 100.0), -95.0, 50.0))
    assert sector[-1] == pytest.approx(plane.toward((100.0, 100.0), -85.0, 50.0))
    assert all(plane.length((100.0, 100.0), point) == pytest.approx(50.0) for point in sector[1:])


def test_a_swing_keeps_both_its_ends_and_goes_the_short_way_round() -> None:
    centre, start, end = (0.0, 0.0), (100.0, 0.0), (0.0, -110.0)
    way = plane.swing(centre, start, end)
    assert (way[0], way[-1]) == (start, end)
    assert all(x >= 0 >= y for x, y in way)
    radii = [plane.length(centre, point) for point in way]
    assert radii == sorted(radii)
