"""`clock: [a, b]`, where the line a→b points on a clock face in the picture as shown, 12 up."""

from __future__ import annotations

from lessonpress.measure import Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.marks import Two, needed_marks, places
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import black_segment, colour_of, dot, tag_of
from lessonpress.overlays.parts.plane import heading, length, toward
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.shapes import Shape, SignAt
from lessonpress.records import Point

KIND = "clock"

FACE_RADIUS = 0.13  # of the crop's width
FACE_REACH = 0.6  # of the hand's length, at most
TWELVE = 10.0  # CSS px, the tick at 12; the others have a tick's usual length


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "clock: [lead-shoulder, lead-wrist]"
    LETTER = "f"
    DIMENSION = "clock"

    clock: Two

    @property
    def marks(self) -> tuple[str, ...]:
        return self.clock


needed = needed_marks


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    pivot, hand = needed(fields, context)
    return context.survey.clock(pivot, hand, mirrored=context.mirrored)


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The hand, and twelve ticks round its pivot, upright by the room's vertical."""
    pivot, hand = places(fields, context)
    return (
        black_segment(fields, pivot, hand),
        *_face(fields, context, pivot, hand),
        dot(fields, pivot, "black"),
        dot(fields, hand, "black"),
        tag_of(fields, context, measured, hand, "black"),
    )


def _face(fields: Fields, context: Context, pivot: Point, hand: Point) -> tuple[SignAt, ...]:
    radius = min(FACE_RADIUS * context.crop_width, FACE_REACH * length(pivot, hand))
    upper, lower = context.plumb_piece(pivot)
    twelve, colour = heading(lower, upper), colour_of(fields, "black")
    ways = (twelve + 30.0 * hour for hour in range(12))
    return tuple(
        SignAt("tick", toward(pivot, way, radius), colour, way, size=TWELVE if way == twelve else None)
        for way in ways
    )


def name(fields: Fields, context: Context) -> str:
    pivot, hand = (context.words.mark(mark) for mark in fields.clock)
    return with_placed(f"Clock, {pivot} to {hand}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    pivot, hand = (context.words.mark(mark) for mark in fields.clock)
    line = f"line from {pivot} to {hand}"
    if not isinstance(measured, Measured):
        return with_placed(f"The clock time of the {line} is not measured", fields.placed)
    clause = f"The {line} points to {amount(measured, context.units)} on a clock face as shown"
    return with_placed(clause, fields.placed)
