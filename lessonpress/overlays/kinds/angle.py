"""`angle: [a, v, b]`, the inside angle at v between the arms to a and b."""

from __future__ import annotations

from collections.abc import Hashable

from lessonpress.measure import Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import IN_SPACE, OverlayFields, SeenIn
from lessonpress.overlays.parts.marks import Three, needed_marks, places
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import colour_of, dot, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import heading, length, toward, turn_between
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.shapes import Arc, Pen, Shape, Stroke
from lessonpress.overlays.words import sentence_case

KIND = "angle"

ARC_RADIUS = 0.128  # of the crop's width
ARC_REACH = 0.8  # of the shorter arm, at most
BACK = 0.02  # of the crop's width: where the tag's leader starts, behind the vertex


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (3, 3)
    EXAMPLE = "angle: [trail-elbow, trail-wrist, implement-head]"
    LETTER = "p"
    DIMENSION = "angle"

    angle: Three
    seen_in: SeenIn = "picture"

    @property
    def marks(self) -> tuple[str, ...]:
        return self.angle

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.seen_in)


needed = needed_marks


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    first, vertex, second = needed(fields, context)
    if fields.seen_in == "space":
        return context.survey.angle_in_space(first, vertex, second)
    return context.survey.angle(first, vertex, second)


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """Two arms, a double arc on the inside of the vertex, a dot on each mark."""
    first, vertex, second = places(fields, context)
    colour, layer = colour_of(fields, "green"), layer_of(fields)
    pen = pen_of(fields, "green", 2.4, "angle")
    start = heading(vertex, first)
    turn = turn_between(start, heading(vertex, second))
    shorter = min(length(vertex, first), length(vertex, second))
    radius = min(ARC_RADIUS * context.crop_width, ARC_REACH * shorter)
    back = toward(vertex, start + turn / 2, -BACK * context.crop_width)
    return (
        Stroke((vertex, first), pen, layer),
        Stroke((vertex, second), pen, layer),
        Arc(vertex, radius, start, start + turn, Pen(colour, 1.5), double=True, layer=layer, free=True),
        *(dot(fields, mark, "green") for mark in (first, vertex, second)),
        tag_of(fields, context, measured, back, "green"),
    )


def name(fields: Fields, context: Context) -> str:
    joint = context.words.joint(*fields.angle)
    space = IN_SPACE if fields.seen_in == "space" else ""
    if joint is not None:
        return with_placed(sentence_case(", ".join(joint)) + space, fields.placed, ", ")
    first, vertex, second = (context.words.mark(mark) for mark in fields.angle)
    return with_placed(f"Angle at {vertex}, {first} to {second}{space}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    result = f"is {amount(measured, context.units)}" if isinstance(measured, Measured) else "is not measured"
    result += IN_SPACE if fields.seen_in == "space" else ""
    joint = context.words.joint(*fields.angle)
    if joint is not None:
        return with_placed(f"The {joint[0]}, {joint[1]}, {result}", fields.placed)
    first, vertex, second = (context.words.the(mark) for mark in fields.angle)
    return with_placed(f"The angle at {vertex} between {first} and {second} {result}", fields.placed)
