"""Bands of ±, true to scale, and hatched shapes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lessonpress.drawing.palette import COLOURS, INK, PAPER
from lessonpress.drawing.paper import Element, group, n, path, pattern, rect, way
from lessonpress.overlays import Colour
from lessonpress.records import Point

SHIFT_BAND = 22.0  # CSS px across the direction of the shift; along it a band is as wide as its ±
HATCH_STEP = 6.0
HATCH_WIDTH = 1.6


def band_area(points: Sequence[Point], colour: Colour) -> Iterator[Element]:
    """A band of ± of any shape: the colour at half strength on a ground of paper."""
    d = way(points, closed=True)
    yield path(d, fill=PAPER, fill_opacity=0.62, stroke=PAPER, stroke_width=2.4, stroke_opacity=0.8)
    yield path(d, fill=COLOURS[colour], fill_opacity=0.5)


def shift_band(centre: Point, width: float, angle: float, colour: Colour) -> Element:
    """A band `width` CSS px along `angle` (degrees) about its centre, its two limits inked."""
    half, high = width / 2, SHIFT_BAND / 2
    return group(
        [
            rect((-half - 1.5, -high - 1.5), width + 3, SHIFT_BAND + 3, fill=PAPER, fill_opacity=0.85),
            rect((-half, -high), width, SHIFT_BAND, fill=COLOURS[colour], fill_opacity=0.5),
            path(
                f"M{n(-half)} {n(-high)}V{n(high)}M{n(half)} {n(-high)}V{n(high)}",
                stroke=INK,
                stroke_width=1,
            ),
        ],
        class_="band",
        transform=f"translate({n(centre[0])},{n(centre[1])}) rotate({n(angle)})",
    )


def hatched(points: Sequence[Point], identity: str) -> Element:
    return path(way(points, closed=True), fill=f"url(#{identity})")


def hatch(identity: str, colour: Colour) -> Element:
    """The pattern of a hatched shape: lines of ink at 45° on a tint of the colour."""
    lines = [
        rect((0, 0), HATCH_STEP, HATCH_STEP, fill=COLOURS[colour], fill_opacity=0.28),
        rect((0, 0), HATCH_WIDTH, HATCH_STEP, fill=INK, fill_opacity=0.75),
    ]
    return pattern(identity, HATCH_STEP, lines, patternTransform="rotate(45)")
