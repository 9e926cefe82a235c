"""Plane geometry of the picture: px, x right, y down; angles in degrees, clockwise as seen."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, degrees, hypot, radians, sin

from lessonpress.overlays.shapes import Point

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


def at_height(line: Line, y: float) -> Point:
    """Where an upright line passes the picture's row y; its first end where it never does."""
    (ax, ay), (bx, by) = line
    if by == ay:
        return line[0]
    share = (y - ay) / (by - ay)
    return ax + share * (bx - ax), y


def at_column(line: Line, x: float) -> Point:
    """Where a lying line passes the picture's column x; its first end where it never does."""
    (ax, ay), (bx, by) = line
    if bx == ax:
        return line[0]
    share = (x - ax) / (bx - ax)
    return x, ay + share * (by - ay)


def arc_points(centre: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    """Points along an arc, both ends included."""
    steps = max(1, round(abs(end - start) / ARC_STEP))
    return tuple(toward(centre, start + (end - start) * step / steps, radius) for step in range(steps + 1))


def sector(centre: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    """A slice of a disc: its point, then its arc."""
    return (centre, *arc_points(centre, radius, start, end))
