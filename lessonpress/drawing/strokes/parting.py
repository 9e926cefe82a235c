"""Arcs of one colour that lie together are drawn apart.

Where an arc says no length its radius is free. Two of one colour that would run into each other are drawn
with different radii; where even that leaves them together, one with a single stroke and one with two.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from lessonpress.drawing.layout import Layout
from lessonpress.drawing.strokes.strokes import DOUBLE, on_circle
from lessonpress.figures import DrawnOverlay
from lessonpress.overlays import Arc, Shape

APART = 8.0  # CSS px between the nearest points of two arcs of one colour
SMALLER = (1.0, 0.75, 0.55, 0.4, 0.3)  # shares of its own radius that an arc may be drawn with
LEAST = 9.0  # CSS px, the smallest radius that still reads as an arc
STEP = 3.0  # CSS px between the points by which an arc is known

Points = NDArray[np.float64]


def parted(drawn: Sequence[DrawnOverlay], layout: Layout) -> tuple[DrawnOverlay, ...]:
    """The overlays with the radii of free arcs chosen so that none lies on another of its colour."""
    laid: list[Arc] = []
    made = []
    for one in drawn:
        shapes: list[Shape] = []
        for shape in one.shapes:
            if isinstance(shape, Arc):
                shape = _chosen(shape, laid, layout)
                laid.append(shape)
            shapes.append(shape)
        made.append(replace(one, shapes=tuple(shapes)))
    return tuple(made)


def _chosen(arc: Arc, laid: Sequence[Arc], layout: Layout) -> Arc:
    alike = [other for other in laid if other.pen.colour == arc.pen.colour]
    if not arc.free or not alike:
        return arc
    others = np.concatenate([_points(other, layout) for other in alike])
    sizes = [
        arc.radius * share for share in SMALLER if share == 1 or arc.radius * share * layout.scale >= LEAST
    ]
    choices = [replace(arc, radius=size) for size in sizes]
    gaps = [_gap(choice, others, layout) for choice in choices]
    clear = next((k for k, gap in enumerate(gaps) if gap >= APART), None)
    if clear is not None:
        return choices[clear]
    best = choices[int(np.argmax(gaps))]
    return replace(best, double=not alike[-1].double)


def _gap(arc: Arc, others: Points, layout: Layout) -> float:
    apart = _points(arc, layout)[:, None] - others[None]
    return float(np.hypot(apart[..., 0], apart[..., 1]).min())


def _points(arc: Arc, layout: Layout) -> Points:
    """Points in CSS px along the stroke or both strokes of an arc."""
    radius = arc.radius * layout.scale
    centre, start, end = layout.point(arc.centre), layout.angle(arc.start), layout.angle(arc.end)
    count = max(2, int(abs(math.radians(end - start)) * radius / STEP) + 1)
    radii = (radius, radius - DOUBLE) if arc.double and radius > DOUBLE else (radius,)
    return np.array(
        [on_circle(centre, one, turn) for one in radii for turn in np.linspace(start, end, count)]
    )
