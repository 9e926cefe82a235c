"""Lines, runs of lines and areas cut to a box."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from lessonpress.drawing.layout import Box
from lessonpress.records import Point


def segment(a: Point, b: Point, box: Box) -> tuple[Point, Point] | None:
    """The part of a→b inside the box, or None where there is none.

    Source: Liang and Barsky 1984, "A new concept and method for line clipping", ACM TOG 3(1).
    """
    dx, dy = b[0] - a[0], b[1] - a[1]
    enters, leaves = 0.0, 1.0
    edges = ((-dx, a[0] - box[0]), (dx, box[2] - a[0]), (-dy, a[1] - box[1]), (dy, box[3] - a[1]))
    for run, room in edges:
        if run == 0:
            if room < 0:
                return None
        elif run < 0:
            enters = max(enters, room / run)
        else:
            leaves = min(leaves, room / run)
    if enters > leaves:
        return None

    def at(t: float) -> Point:
        return (a[0] + t * dx, a[1] + t * dy)

    return (a if enters == 0.0 else at(enters), b if leaves == 1.0 else at(leaves))


def runs(points: Sequence[Point], box: Box, *, closed: bool = False) -> tuple[tuple[Point, ...], ...]:
    """The parts of an open or closed line inside the box, in order; one wholly inside comes back as it is."""
    if all(box[0] <= x <= box[2] and box[1] <= y <= box[3] for x, y in points):
        return (tuple(points),)
    around = [*points, points[0]] if closed else list(points)
    joined: list[list[Point]] = []
    for a, b in pairwise(around):
        part = segment(a, b, box)
        if part is None:
            continue
        if joined and joined[-1][-1] == part[0]:
            joined[-1].append(part[1])
        else:
            joined.append(list(part))
    return tuple(tuple(run) for run in joined)


def area(points: Sequence[Point], box: Box) -> tuple[Point, ...]:
    """The part of a filled shape inside the box; empty where there is none.

    Source: Sutherland and Hodgman 1974, "Reentrant polygon clipping", CACM 17(1).
    """
    left, top, right, bottom = box
    kept = list(points)
    kept = _keep(kept, lambda p: p[0] - left)
    kept = _keep(kept, lambda p: right - p[0])
    kept = _keep(kept, lambda p: p[1] - top)
    kept = _keep(kept, lambda p: bottom - p[1])
    return tuple(kept)


def _keep(points: list[Point], depth: Callable[[Point], float]) -> list[Point]:
    """The shape on the side where depth ≥ 0."""
    kept: list[Point] = []
    for a, b in zip(points, [*points[1:], *points[:1]], strict=True):
        da, db = depth(a), depth(b)
        if da >= 0:
            kept.append(a)
        if (da >= 0) != (db >= 0):
            t = da / (da - db)
            kept.append((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))
    return kept
