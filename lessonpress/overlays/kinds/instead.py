"""`instead: [v, b]`, where b would be if v→b were at another angle to v→a, and how far from where it is."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from lessonpress.manuscript import AngleText, InvalidValueError, MarkName
from lessonpress.measure import Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields, Question
from lessonpress.overlays.parts.marks import Two, needed_marks, places
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import swing
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.shapes import Pen, Shape, SignAt, Stroke
from lessonpress.overlays.words import sentence_case
from lessonpress.records import Point

KIND = "instead"

DOT = 5.0  # CSS px


def _inside_angle(degrees: float) -> float:
    if not 0 <= degrees <= 180:
        raise InvalidValueError(f"`{degrees:g} deg` is not an inside angle", "0 to 180 deg")
    return degrees


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "instead: [trail-wrist, implement-head]"
    LETTER = "l"
    QUESTIONS = (
        Question("of", mark=True),
        Question("to", "At which angle should it be?", usual="90 deg"),
    )
    DIMENSION = "length"

    instead: Two
    of: MarkName
    to: Annotated[AngleText, AfterValidator(_inside_angle)]
    by: Annotated[Literal["chord", "arc"], Field(alias="along")] = "chord"

    @property
    def marks(self) -> tuple[str, ...]:
        return (*self.instead, self.of)

    def mark_places(self) -> tuple[tuple[tuple[str | int, ...], str], ...]:
        vertex, end = self.instead
        return (((KIND, 0), vertex), ((KIND, 1), end), (("of",), self.of))

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.to, self.by)


needed = needed_marks


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    vertex, end, other = needed(fields, context)
    return context.survey.instead(other, vertex, end, fields.to, fields.by)


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The arm as it would be, a dot at its end, a dotted arc to it from where the end really is."""
    vertex, end, _ = places(fields, context)
    moved = _moved(fields, context)
    colour, layer = colour_of(fields, "yellow"), layer_of(fields)
    return (
        Stroke(swing(vertex, end, moved), Pen(colour, 1.6, "arc"), layer),
        Stroke((vertex, moved), pen_of(fields, "yellow", 3.0, "instead"), layer),
        SignAt("hollow", end, colour),
        SignAt("dot", moved, colour, size=DOT),
        tag_of(fields, context, measured, moved, "yellow"),
    )


def _moved(fields: Fields, context: Context) -> Point:
    """Where the arm's end would be, as this panel's picture shows that place."""
    vertex, end, other = needed(fields, context)
    position = context.survey.instead_place(other, vertex, end, fields.to)
    return context.survey.carried(position, end.frame, context.frame)


def name(fields: Fields, context: Context) -> str:
    vertex, end, other = fields.marks
    joint = context.words.joint(other, vertex, end)
    angle = joint[0] if joint else f"angle at {context.words.mark(vertex)} to {context.words.mark(other)}"
    would = f"{context.words.mark(end)} if the {angle} were {fields.to:g}°"
    return with_placed(sentence_case(would), fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    vertex, end, other = (context.words.the(mark) for mark in fields.marks)
    joint = context.words.joint(fields.of, *fields.instead)
    angle = f"{joint[0]}, {joint[1]}," if joint else f"angle at {vertex} between {other} and {end}"
    where = f"If the {angle} were {fields.to:g}°, {end}"
    if not isinstance(measured, Measured):
        return with_placed(f"{where} would be elsewhere; how far is not measured", fields.placed, ", ")
    way = "in a straight line" if fields.by == "chord" else "along its arc"
    return with_placed(f"{where} would be {amount(measured, context.units)} away {way}", fields.placed, ", ")
