"""Shapes lie exactly where the marks are, whatever the marks."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonpress.measure import Camera, Lens, Measured, Motion
from lessonpress.overlays.kinds import (
    angle,
    arrow,
    distance,
    instead,
    line,
    outline,
    path,
    shift,
    speed,
    tilt,
    turn,
    vertical,
)
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.plane import between, length, toward, turn_between
from lessonpress.overlays.shapes import Area, Band, SignAt, Stroke
from lessonpress.records import Point
from lessonpress.records.instant import Instant
from tests.overlays.scene import EVENTS, context_at

NOW = EVENTS["impact"]
SETUP = Instant("setup", event="setup")
PLACE = st.tuples(st.floats(360, 920), st.floats(20, 640))


def context_with(**marks: Point) -> Context:
    return context_at("impact", {name: {NOW: at} for name, at in marks.items()})


@settings(max_examples=25, deadline=None)
@given(PLACE, PLACE)
def test_a_line_an_arrow_and_a_tilt_run_from_mark_to_mark(a: Point, b: Point) -> None:
    context = context_with(navel=a, c7=b)
    for kind, fields in (
        (line, line.Fields(line=("navel", "c7"))),
        (arrow, arrow.Fields(arrow=("navel", "c7"))),
        (tilt, tilt.Fields(tilt=("navel", "c7"))),
    ):
        strokes = [shape for shape in kind.shapes(fields, context, None) if isinstance(shape, Stroke)]
        assert strokes[-1].points == (a, b)


@settings(max_examples=25, deadline=None)
@given(PLACE, PLACE, PLACE)
def test_an_angle_s_arms_meet_on_the_vertex_and_end_on_their_marks(a: Point, v: Point, b: Point) -> None:
    context = context_with(head=a, navel=v, ball=b)
    shapes = angle.shapes(angle.Fields(angle=("head", "navel", "ball")), context, None)
    assert [shape.points for shape in shapes if isinstance(shape, Stroke)] == [(v, a), (v, b)]
    assert [shape.at for shape in shapes if isinstance(shape, SignAt)] == [a, v, b]


@settings(max_examples=25, deadline=None)
@given(PLACE, PLACE, st.sampled_from(["level", "plumb", "straight"]))
def test_witness_lines_leave_from_the_marks_and_reach_the_dimension_line(
    a: Point, b: Point, axis: str
) -> None:
    context = context_with(navel=a, c7=b)
    fields = distance.Fields.model_validate({"distance": ["navel", "c7"], "axis": axis})
    strokes = [shape for shape in distance.shapes(fields, context, None) if isinstance(shape, Stroke)]
    first, second, dimension = strokes
    assert (first.points[0], second.points[0]) == (a, b)
    assert (first.points[1], second.points[1]) == dimension.points
    (ax, ay), (bx, by) = dimension.points
    if axis != "plumb":
        assert bx - ax == pytest.approx(b[0] - a[0], abs=1e-6)
    if axis != "level":
        assert by - ay == pytest.approx(b[1] - a[1], abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(PLACE, PLACE)
def test_a_level_shift_ends_on_the_mark_and_starts_under_where_it_was(then: Point, now: Point) -> None:
    context = context_at("impact", {"navel": {12: then, NOW: now}})
    shapes = shift.shapes(shift.Fields(shift="navel"), context, None)
    (stroke,) = [shape for shape in shapes if isinstance(shape, Stroke)]
    assert stroke.points[1] == now
    assert stroke.points[0] == pytest.approx((then[0], now[1]), abs=1e-6)


def test_an_outline_has_every_mark_on_its_edge_and_its_hatching() -> None:
    context = context_with(a=(500.0, 600.0), b=(560.0, 640.0), c=(510.0, 650.0))
    area, edge, _ = outline.shapes(outline.Fields(outline=("a", "b", "c")), context, None)
    assert isinstance(area, Area)
    assert isinstance(edge, Stroke)
    assert {(500.0, 600.0), (560.0, 640.0), (510.0, 650.0)} <= set(edge.points)
    assert area.points == edge.points


def test_a_tilt_s_band_is_as_wide_as_its_plus_minus_and_1_62_of_the_segment_long() -> None:
    context = context_with(navel=(640.0, 400.0), c7=(580.0, 210.0))
    fields = tilt.Fields(tilt=("navel", "c7"))
    measured = tilt.measure(fields, context)
    assert isinstance(measured, Measured)
    (band,) = [shape for shape in tilt.shapes(fields, context, measured) if isinstance(shape, Area)]
    foot, first, last = band.points[0], band.points[1], band.points[-1]
    opening = abs(turn_between(*(_heading(foot, point) for point in (first, last))))
    assert opening == pytest.approx(2 * measured.uncertainty)
    assert length(foot, first) == pytest.approx(1.62 * length((640.0, 400.0), (580.0, 210.0)))


def _heading(start: Point, end: Point) -> float:
    return float(np.degrees(np.arctan2(end[1] - start[1], end[0] - start[0])))


def test_a_shift_s_band_is_twice_its_plus_minus_wide_at_200_px_a_metre() -> None:
    context = context_at("impact", {"navel": {12: (640.0, 400.0), NOW: (700.0, 390.0)}})
    fields = shift.Fields(shift="navel")
    measured = shift.measure(fields, context)
    assert isinstance(measured, Measured)
    (band,) = [shape for shape in shift.shapes(fields, context, measured) if isinstance(shape, Band)]
    assert band.centre == pytest.approx((700.0, 390.0))
    assert band.width == pytest.approx(2 * measured.uncertainty * 200)


def test_in_a_camera_that_moves_a_standing_line_stays_on_the_room() -> None:
    """From setup to impact the camera turns so that the room moves 30 px to the left in its picture."""
    frames = 400
    to_reference = np.tile(np.eye(3), (frames, 1, 1))
    to_reference[NOW, 0, 2] = 30.0
    motion = Motion(to_reference, np.full(frames, 0.2), reference=12)
    camera = Camera(distance=4.2672, within=0.1524, wall=6.1, wall_within=0.3)
    context = context_at("impact", {"navel": {12: (640.0, 400.0)}}, camera=camera, motion=motion)
    shapes = vertical.shapes(vertical.Fields(vertical="navel", placed=SETUP), context, None)
    (stroke,) = [shape for shape in shapes if isinstance(shape, Stroke)]
    assert stroke.points[0] == pytest.approx((610.0, 0.0))
    assert stroke.points[-1] == pytest.approx((610.0, 720.0))


def test_where_the_lens_bends_the_picture_a_vertical_bends_with_it_and_still_meets_its_mark() -> None:
    """A barrel lens bows a vertical right of the middle outward, so that both its ends lie inward."""
    mark = (900.0, 360.0)
    context = context_at("impact", {"navel": {12: mark}}, lens=Lens(k1=-0.12, k2=0.01, focal=900))
    shapes = vertical.shapes(vertical.Fields(vertical="navel", placed=SETUP), context, None)
    (stroke,) = [shape for shape in shapes if isinstance(shape, Stroke)]
    assert min(length(mark, point) for point in _dense(stroke.points)) < 0.1
    assert (stroke.points[0][1], stroke.points[-1][1]) == (0.0, 720.0)
    assert max(stroke.points[0][0], stroke.points[-1][0]) < 899.0


def _dense(points: tuple[Point, ...]) -> list[Point]:
    return [between(*pair, step / 50) for pair in pairwise(points) for step in range(51)]


def test_a_path_runs_through_every_place_of_its_mark_and_of_no_frame_outside_it() -> None:
    places = {frame: (400.0 + 15 * (frame - 240), 300.0 + (frame - 240) ** 2) for frame in range(236, 256)}
    context = context_at("impact", {"implement-head": places})
    fields = path.Fields.model_validate({"path": "implement-head", "from": "delivery"})
    (stroke,) = [shape for shape in path.shapes(fields, context, None) if isinstance(shape, Stroke)]
    assert stroke.points == tuple(places[frame] for frame in range(EVENTS["delivery"], NOW + 1))


@pytest.mark.parametrize("target_right", [+1, -1])
def test_from_overhead_positive_is_where_the_card_s_target_lies(target_right: int) -> None:
    marks = {"navel": {NOW: (700.0, 390.0)}}
    context = context_at("impact", marks, view="overhead", target_right=target_right, plumb=())
    assert context.positive_right == target_right


@settings(max_examples=25, deadline=None)
@given(st.floats(-175, 175).filter(lambda turn: abs(turn) > 5), st.floats(5, 175))
def test_an_arm_set_elsewhere_keeps_its_length_its_side_and_has_the_angle_asked_for(
    now: float, to: float
) -> None:
    vertex, other = (640.0, 360.0), (740.0, 360.0)
    end = toward(vertex, now, 150.0)
    context = context_with(navel=vertex, head=other, ball=end)
    fields = instead.Fields.model_validate(
        {"instead": ["navel", "ball"], "of": "head", "to": f"{to:.6f} deg"}
    )
    shapes = instead.shapes(fields, context, None)
    arc, arm = [shape for shape in shapes if isinstance(shape, Stroke)]
    assert arm.points[0] == vertex
    assert length(*arm.points) == pytest.approx(150.0)
    turned = turn_between(0.0, _heading(*arm.points))
    assert turned == pytest.approx(np.copysign(to, now), abs=1e-4)
    assert (arc.points[0], arc.points[-1]) == (end, arm.points[-1])


def test_a_speed_s_arrow_is_as_long_as_the_travel_of_a_hundredth_of_a_second() -> None:
    places = {frame: (300.0 + 2 * frame, 500.0 - frame) for frame in range(140, 250)}
    context = context_at("top", {"navel": places})
    fields = speed.Fields(speed="navel")
    measured = speed.measure(fields, context)
    assert isinstance(measured, Measured)
    (stroke,) = [shape for shape in speed.shapes(fields, context, measured) if isinstance(shape, Stroke)]
    assert stroke.points[0] == places[EVENTS["top"]]
    assert length(*stroke.points) == pytest.approx(measured.value * 0.01 * 200, rel=1e-6)
    assert _heading(*stroke.points) == pytest.approx(np.degrees(np.arctan2(-1, 2)), abs=0.01)


def test_a_speed_at_impact_points_the_way_the_mark_came_and_not_where_it_was_struck_to() -> None:
    before = {frame: (600.0 + 10 * (frame - NOW), 400.0) for frame in range(NOW - 8, NOW + 1)}
    after = {frame: (600.0, 400.0 - 10 * (frame - NOW)) for frame in range(NOW + 1, NOW + 8)}
    context = context_at("impact", {"navel": {**before, **after}})
    fields = speed.Fields(speed="navel")
    measured = speed.measure(fields, context)
    assert isinstance(measured, Measured)
    (stroke,) = [shape for shape in speed.shapes(fields, context, measured) if isinstance(shape, Stroke)]
    assert _heading(*stroke.points) == pytest.approx(0.0, abs=1e-6)


def test_a_turn_is_drawn_from_the_marks_as_they_were_to_the_marks_as_they_are() -> None:
    then, now = ((590.0, 380.0), (690.0, 381.0)), ((615.0, 379.0), (665.0, 377.0))
    marks = {name: {12: then[at], NOW: now[at]} for at, name in enumerate(("trail-hip", "lead-hip"))}
    shapes = turn.shapes(turn.Fields(turn=("trail-hip", "lead-hip")), context_at("impact", marks), None)
    assert [shape.points for shape in shapes if isinstance(shape, Stroke)] == [then, now]
