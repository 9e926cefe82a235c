"""Smooth curves through given points."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, sqrt

from lessonpress.records import Point

STEPS = 8  # straight pieces between one given point and the next


def closed_curve(points: Sequence[Point]) -> tuple[Point, ...]:
    """A closed curve through every point, each given point among those returned.

    A centripetal Catmull–Rom spline, which makes neither loop nor cusp within a piece.
    Source: Yuksel, Schaefer, Keyser 2011, "Parameterization and applications of Catmull–Rom curves",
    Computer-Aided Design 43 (from memory); points by the recurrence of Barry and Goldman 1988.
    """
    count = len(points)
    curve: list[Point] = []
    for index in range(count):
        four = [points[(index + offset) % count] for offset in (-1, 0, 1, 2)]
        curve.append(points[index])
        curve.extend(_between(four, step / STEPS) for step in range(1, STEPS))
    return tuple(curve)


def _between(four: Sequence[Point], share: float) -> Point:
    """The spline's point at a share of the way from the second of four points to the third."""
    p0, p1, p2, p3 = four
    t0, t1 = 0.0, _knot(p0, p1)
    t2 = t1 + _knot(p1, p2)
    t3 = t2 + _knot(p2, p3)
    at = t1 + share * (t2 - t1)
    a1, a2, a3 = _blend(p0, p1, t0, t1, at), _blend(p1, p2, t1, t2, at), _blend(p2, p3, t2, t3, at)
    return _blend(_blend(a1, a2, t0, t2, at), _blend(a2, a3, t1, t3, at), t1, t2, at)


def _knot(start: Point, end: Point) -> float:
    """The centripetal step between two points: the root of their distance."""
    return sqrt(max(hypot(end[0] - start[0], end[1] - start[1]), 1e-9))


def _blend(start: Point, end: Point, begin: float, finish: float, at: float) -> Point:
    """The point on start→end that `at` is between the knots begin and finish, or beyond them."""
    share = (at - begin) / (finish - begin)
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
