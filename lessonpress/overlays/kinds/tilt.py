"""`tilt: [a, b]`, the lean of the line a→b against the room's vertical."""

from __future__ import annotations

from lessonpress.measure import Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.marks import Two, needed_marks, places
from lessonpress.overlays.parts.numbers import amount_and_way
from lessonpress.overlays.parts.pens import colour_of, dot, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import heading, length, sector, toward, turn_between
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.parts.ways import WAYS
from lessonpress.overlays.shapes import Arc, Area, Pen, Shape, Stroke
from lessonpress.records import Axis, Point

KIND = "tilt"

# shares of the segment's length
PLUMB_LENGTH = 0.92
ARC_RADIUS = 0.6
BAND_LENGTH = 1.62
DOT = 4.0  # CSS px


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "tilt: [navel, c7]"
    LETTER = "o"
    DIMENSION = "angle"

    tilt: Two

    @property
    def marks(self) -> tuple[str, ...]:
        return self.tilt

    @property
    def along(self) -> Axis | None:
        return "level"

    @property
    def ways(self) -> tuple[str, ...]:
        return WAYS["level"]


needed = needed_marks


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    foot, head = needed(fields, context)
    return context.survey.tilt(foot, head)


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The segment, a dotted plumb from its foot, the arc between them, the band of ± beyond the head."""
    foot, head = places(fields, context)
    span, way = length(foot, head), heading(foot, head)
    up = heading(*reversed(context.plumb_piece(foot)))
    colour, layer = colour_of(fields, "blue"), layer_of(fields)
    band = _band(fields, context, measured, foot, head)
    anchor = toward(foot, way, BAND_LENGTH * span) if band else head
    return (
        *band,
        Stroke((foot, toward(foot, up, PLUMB_LENGTH * span)), Pen(colour, 1.6, "plumb"), layer),
        Arc(
            foot, ARC_RADIUS * span, up, up + turn_between(up, way), Pen(colour, 1.8), layer=layer, free=True
        ),
        Stroke((foot, head), pen_of(fields, "blue", 2.8), layer),
        dot(fields, foot, "blue", DOT),
        dot(fields, head, "blue", DOT),
        tag_of(fields, context, measured, anchor, "blue"),
    )


def _band(fields: Fields, context: Context, measured: Outcome, foot: Point, head: Point) -> tuple[Area, ...]:
    """The slice within which the line may truly lie, turned from the drawn segment by what ± allows."""
    if not isinstance(measured, Measured):
        return ()
    way, clockwise = heading(foot, head), context.positive_right
    start = way + clockwise * (measured.low - measured.value)
    end = way + clockwise * (measured.high - measured.value)
    points = sector(foot, BAND_LENGTH * length(foot, head), start, end)
    return (Area(points, colour_of(fields, "blue")),)


def name(fields: Fields, context: Context) -> str:
    foot, head = (context.words.mark(mark) for mark in fields.tilt)
    return with_placed(f"Tilt, {foot} to {head}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    foot, head = (context.words.mark(mark) for mark in fields.tilt)
    line = f"line from {foot} to {head}"
    if not isinstance(measured, Measured):
        return with_placed(f"The lean of the {line} is not measured", fields.placed)
    number = amount_and_way(measured, context.units)
    return with_placed(f"The {line} leans {number}", fields.placed)
