"""`distance: [a, b]`, a dimension line: how far b lies from a, straight, level or plumb."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Literal

from lessonpress.measure import Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import IN_SPACE, OverlayFields, SeenIn
from lessonpress.overlays.parts.marks import Two, needed_marks, places
from lessonpress.overlays.parts.numbers import amount, amount_and_way
from lessonpress.overlays.parts.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import Line, between, crossing, heading, toward
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.parts.ways import WAYS
from lessonpress.overlays.shapes import Pen, Shape, SignAt, Stroke
from lessonpress.records import Axis, Point

KIND = "distance"

OFFSET = 0.05  # of the crop's height, from the marks to the dimension line
WITNESS = 1.1  # CSS px

_AXIS_WORDS: dict[Axis, str] = {"straight": "", "level": " along the level", "plumb": " up or down"}


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "distance: [lead-toe, trail-toe]"
    LETTER = "a"
    DIMENSION = "length"

    distance: Two
    axis: Axis = "straight"
    seen_in: SeenIn = "picture"

    @property
    def marks(self) -> tuple[str, ...]:
        return self.distance

    @property
    def along(self) -> Axis | None:
        return self.axis

    @property
    def ways(self) -> tuple[str, ...]:
        return WAYS[self.axis]

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.seen_in)


needed = needed_marks


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    start, end = needed(fields, context)
    if _spatial(fields):
        return context.survey.distance_in_space(start, end)
    return context.survey.distance(start, end, fields.axis)


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """A line beside the marks with an oblique tick at each end, a thin witness line to it from each mark."""
    marks = places(fields, context)
    start, end = _dimension_line(fields.axis, context, *marks)
    colour, layer = colour_of(fields, "black"), layer_of(fields)
    way = heading(start, end)
    return (
        Stroke((marks[0], start), Pen(colour, WITNESS), layer),
        Stroke((marks[1], end), Pen(colour, WITNESS), layer),
        Stroke((start, end), pen_of(fields, "black", 1.8), layer),
        SignAt("oblique", start, colour, way),
        SignAt("oblique", end, colour, way),
        tag_of(fields, context, measured, between(start, end), "black"),
    )


def _dimension_line(axis: Axis, context: Context, start: Point, end: Point) -> tuple[Point, Point]:
    """Where the dimension line begins and ends: along the axis, clear of the marks, within the plate."""
    offset = OFFSET * context.crop_height
    if axis == "level":
        line = context.level_piece(_beside(context, 1, start, end, offset))
        return _met(context.plumb_piece(start), line, start), _met(context.plumb_piece(end), line, end)
    if axis == "plumb":
        line = context.plumb_piece(_beside(context, 0, start, end, offset))
        return _met(context.level_piece(start), line, start), _met(context.level_piece(end), line, end)
    aside = heading(start, end) + (90.0 if start[0] <= end[0] else -90.0)  # the lower side
    below = toward(start, aside, offset), toward(end, aside, offset)
    if max(point[1] for point in below) < context.crop[3]:
        return below
    return toward(start, aside, -offset), toward(end, aside, -offset)


def _beside(context: Context, axis: Literal[0, 1], start: Point, end: Point, offset: float) -> Point:
    """A point of the dimension line: below the lower mark or right of the outer one, if there is room."""
    first, last = sorted((start, end), key=lambda mark: mark[axis])
    way = heading(*(context.level_piece(last) if axis == 0 else context.plumb_piece(last)))
    beyond = toward(last, way, offset)
    return beyond if beyond[axis] < context.crop[2 + axis] else toward(first, way, -offset)


def _met(witness: Line, line: Line, mark: Point) -> Point:
    """Where a mark's witness line meets the dimension line; the mark itself if they never do."""
    return crossing(witness, line) or mark


def name(fields: Fields, context: Context) -> str:
    start, end = (context.words.mark(mark) for mark in fields.distance)
    space = IN_SPACE if _spatial(fields) else ""
    return with_placed(f"Distance{_AXIS_WORDS[fields.axis]}, {start} to {end}{space}", fields.placed, ", ")


def _spatial(fields: Fields) -> bool:
    """Level or up, a distance is the same in space as in the picture."""
    return fields.seen_in == "space" and fields.axis == "straight"


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    start, end = (context.words.the(mark) for mark in fields.distance)
    along = _AXIS_WORDS[fields.axis]
    if not isinstance(measured, Measured):
        return with_placed(f"The distance{along} from {start} to {end} is not measured", fields.placed)
    if fields.axis == "straight":
        space = IN_SPACE if _spatial(fields) else ""
        clause = f"From {start} to {end} it is {amount(measured, context.units)}{space}"
        return with_placed(clause, fields.placed)
    clause = f"From {start} to {end} it is {amount_and_way(measured, context.units)}"
    return with_placed(clause if fields.axis == "plumb" else f"{clause}{along}", fields.placed)
