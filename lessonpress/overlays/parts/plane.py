"""Plane geometry of the picture: px, x right, y down; angles in degrees, clockwise as seen."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Literal

from lessonpress.records import Point

Line = tuple[Point, Point]
ARC_STEP = (
    3.0  # degrees between the points of an arc drawn as a polygon: the chord falls 0.03 % of the radius short
)


def heading(start: Point, end: Point) -> float:
    """The way from start to end, degrees in (-180, 180]."""
    return degrees(atan2(end[1] - start[1], end[0] - start[0]))


def length(start: Point, end: Point) -> float:
    return hypot(end[0] - start[0], end[1] - start[1])


def toward(start: Point, angle: float, distance: float) -> Point:
    """The point `distance` px from start in the direction `angle`."""
    return start[0] + distance * cos(radians(angle)), start[1] + distance * sin(radians(angle))


def between(start: Point, end: Point, share: float = 0.5) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def middle(points: Sequence[Point]) -> Point:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def turn_between(start: float, end: float) -> float:
    """The shorter turn from one heading to another, degrees in (-180, 180], positive clockwise as seen."""
    turn = (end - start) % 360.0
    return turn - 360.0 if turn > 180.0 else turn


def crossing(one: Line, other: Line) -> Point | None:
    """Where two endless lines meet; None when they run alongside each other."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    cross = ux * vy - uy * vx
    if abs(cross) <= 1e-12 * hypot(ux, uy) * hypot(vx, vy):
        return None
    share = ((cx - ax) * vy - (cy - ay) * vx) / cross
    return ax + share * ux, ay + share * uy


def piece_near(line: Sequence[Point], point: Point) -> Line:
    """The straight piece of a line that passes nearest to a point."""
    return min(pairwise(line), key=lambda piece: _distance(point, piece))


def cut(line: Sequence[Point], axis: Literal[0, 1], start: float, end: float) -> tuple[Point, ...]:
    """The part of a line between two columns (axis 0) or rows (axis 1), its ends exactly on them.

    line: points in order of the axis, reaching past start and end; start ≤ end.
    """
    inner = [point for point in line if start < point[axis] < end]
    return _at(line, axis, start), *inner, _at(line, axis, end)


def _at(line: Sequence[Point], axis: Literal[0, 1], value: float) -> Point:
    """Where a line passes a column or row; the piece nearest to it is lengthened if none does."""
    pieces = list(pairwise(line))
    first, last = next((piece for piece in pieces if value <= piece[1][axis]), pieces[-1])
    share = (value - first[axis]) / (last[axis] - first[axis])
    point = between(first, last, share)
    return (value, point[1]) if axis == 0 else (point[0], value)


def _distance(point: Point, piece: Line) -> float:
    """From a point to the straight piece between two others."""
    start, end = piece
    square = length(start, end) ** 2
    dot = (point[0] - start[0]) * (end[0] - start[0]) + (point[1] - start[1]) * (end[1] - start[1])
    return length(point, between(start, end, min(max(dot / square, 0.0), 1.0) if square else 0.0))


def arc_points(centre: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    """Points along an arc, both ends included."""
    steps = max(1, round(abs(end - start) / ARC_STEP))
    return tuple(toward(centre, start + (end - start) * step / steps, radius) for step in range(steps + 1))


def swing(centre: Point, start: Point, end: Point) -> tuple[Point, ...]:
    """The short way round a centre from one point to another, the radius growing evenly between theirs."""
    first, turn = heading(centre, start), turn_between(heading(centre, start), heading(centre, end))
    steps = max(1, round(abs(turn) / ARC_STEP))
    near, far = length(centre, start), length(centre, end)
    shares = (step / steps for step in range(1, steps))
    inner = (toward(centre, first + turn * share, near + (far - near) * share) for share in shares)
    return (start, *inner, end)


def sector(centre: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    """A slice of a disc: its point, then its arc."""
    return (centre, *arc_points(centre, radius, start, end))
