"""A stroke as drawn: casing, edge of ink, core."""

from __future__ import annotations

import math
from collections.abc import Iterator

from lessonpress.drawing.palette import CASING, CASING_OPACITY, COLOURS, EDGE, INK, PAPER, STANDING_CASING
from lessonpress.drawing.paper import Element, fine, n, pair, path
from lessonpress.overlays import Arc, Dash, Pen
from lessonpress.records import Point

DASHES: dict[Dash, str | None] = {
    "solid": None,
    "standing": "7 5",
    "plumb": "2 3",
    "angle": "14 3",
    "circle": "12 4 2 4",
    "then": "8 4",
    "balance": "2 4",
    "instead": "0.1 7",
    "arc": "2 3",
}
DOUBLE = 4.5  # CSS px between the two strokes of a double arc


def stroke(d: str, pen: Pen) -> Iterator[Element]:
    """The two or three paths of a stroke along `d`, lowest first. The casing is whole under every dash.

    They are filled with whatever their group says, which is nothing (`plate.py`).
    """
    edge = EDGE[pen.colour]
    casing = STANDING_CASING if pen.dash == "standing" else CASING
    laid: dict[str, str] = {}
    if pen.dash == "instead":
        laid["stroke_linecap"] = "round"
    yield path(
        d,
        stroke=PAPER,
        stroke_width=fine(pen.core + 2 * (edge + casing)),
        stroke_opacity=fine(CASING_OPACITY),
        **laid,
    )
    dash = DASHES[pen.dash]
    if dash is not None:
        laid["stroke_dasharray"] = dash
    if edge:
        yield path(d, stroke=INK, stroke_width=fine(pen.core + 2 * edge), **laid)
    yield path(d, stroke=COLOURS[pen.colour], stroke_width=fine(pen.core), **laid)


def on_circle(centre: Point, radius: float, degrees: float) -> Point:
    angle = math.radians(degrees)
    return (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))


def arc_data(centre: Point, radius: float, start: float, end: float) -> str:
    """Path data of an arc in CSS px; angles in degrees, clockwise as seen; 360 or more is a whole circle."""
    sweep = end - start
    if abs(sweep) >= 360:
        half = arc_data(centre, radius, start, start + 180)
        return half + f"A{n(radius)} {n(radius)} 0 0 1 {pair(on_circle(centre, radius, start))}Z"
    large, clockwise = int(abs(sweep) > 180), int(sweep > 0)
    first, last = on_circle(centre, radius, start), on_circle(centre, radius, end)
    return f"M{pair(first)}A{n(radius)} {n(radius)} 0 {large} {clockwise} {pair(last)}"


def arc(shape: Arc) -> Iterator[Element]:
    """An arc whose centre and radius are already CSS px."""
    d = arc_data(shape.centre, shape.radius, shape.start, shape.end)
    if shape.double and shape.radius > DOUBLE:
        d += arc_data(shape.centre, shape.radius - DOUBLE, shape.start, shape.end)
    yield from stroke(d, shape.pen)
