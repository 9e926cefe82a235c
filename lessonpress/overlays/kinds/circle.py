"""`circle: m`, the circle nearest to a mark's path: its radius, or how far its centre lies from a mark."""

from __future__ import annotations

from collections.abc import Hashable

from lessonpress.manuscript import MarkName
from lessonpress.measure import At, Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.motion import StretchFields, stretch, stretch_words
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import colour_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import length
from lessonpress.overlays.shapes import Pen, Shape, SignAt, Stroke
from lessonpress.records import Point

KIND = "circle"

TO_MARK = 1.1  # CSS px, the line from the mark that the centre's distance is taken from


class Fields(StretchFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "circle: implement-head"
    LETTER = "j"
    DIMENSION = "length"

    circle: MarkName
    near: MarkName | None = None

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.circle,) if self.near is None else (self.circle, self.near)

    def mark_places(self) -> tuple[tuple[tuple[str | int, ...], str], ...]:
        return tuple(((key,), mark) for key, mark in zip((KIND, "near"), self.marks, strict=False))

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.near)


def needed(fields: Fields, context: Context) -> tuple[At, ...]:
    ends = tuple(At(fields.circle, frame) for frame in stretch(fields, context))
    return ends if fields.near is None else (*ends, context.at(fields.near))


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    near = None if fields.near is None else context.at(fields.near)
    return context.survey.circle(fields.circle, *stretch(fields, context), near)


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The circle with a cross at its centre, and a thin line to it from the mark it is held against."""
    fitted = context.survey.fitted_circle(fields.circle, *stretch(fields, context), context.frame)
    end = context.place_of(needed(fields, context)[1])
    if isinstance(fitted, Refusal):
        return (tag_of(fields, context, measured, end, "orange"),)
    centre, *line = fitted
    colour = colour_of(fields, "orange")
    return (
        *_to_mark(fields, context, centre),
        Stroke(tuple(line), pen_of(fields, "orange", 2.0, "circle"), closed=True),
        SignAt("cross", centre, colour),
        tag_of(fields, context, measured, _anchor(fields, centre, line, end), "orange"),
    )


def _to_mark(fields: Fields, context: Context, centre: Point) -> tuple[Stroke, ...]:
    if fields.near is None:
        return ()
    mark = context.position(fields.near)
    return (Stroke((mark, centre), Pen(colour_of(fields, "orange"), TO_MARK)),)


def _anchor(fields: Fields, centre: Point, line: list[Point], end: Point) -> Point:
    """The centre where that is what is measured, else where the path has come to."""
    return centre if fields.near is not None else min(line, key=lambda point: length(point, end))


def name(fields: Fields, context: Context) -> str:
    clause = f"Circle of {context.words.the(fields.circle)} {stretch_words(fields)}"
    return clause if fields.near is None else f"{clause}, its centre from {context.words.the(fields.near)}"


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    whose = f"of the circle of {context.words.the(fields.circle)} {stretch_words(fields)}"
    if fields.near is None:
        what, verb = f"The radius {whose}", "is"
    else:
        what, verb = f"The centre {whose}", "lies"
    if not isinstance(measured, Measured):
        position = "" if fields.near is None else f"'s distance from {context.words.the(fields.near)}"
        return f"{what}{position} is not measured"
    from_mark = "" if fields.near is None else f" from {context.words.the(fields.near)}"
    return f"{what} {verb} {amount(measured, context.units)}{from_mark}"
