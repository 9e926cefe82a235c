"""`speed: m`, how fast a mark moves at the figure's frame, and which way."""

from __future__ import annotations

from collections.abc import Hashable

from lessonpress.manuscript import MarkName
from lessonpress.measure import At, Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import IN_SPACE, OverlayFields, SeenIn
from lessonpress.overlays.parts.marks import needed_marks, places
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import heading, toward
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.shapes import Shape, SignAt, Stroke
from lessonpress.records import Point

KIND = "speed"

SHOWN = 0.010  # s: the arrow is as long as the path of the mark in this time


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "speed: implement-head"
    LETTER = "h"
    DIMENSION = "speed"

    speed: MarkName
    seen_in: SeenIn = "picture"

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.seen_in)

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.speed,)


needed = needed_marks


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    (at,) = needed(fields, context)
    return context.survey.speed(at, space=fields.seen_in == "space")


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """A bead on the mark; with a number, an arrow in its direction, to scale."""
    (mark,) = places(fields, context)
    colour = colour_of(fields, "purple")
    tip = _tip(fields, context, measured, mark)
    if tip is None:
        return (SignAt("bead", mark, colour), tag_of(fields, context, measured, mark, "purple"))
    return (
        Stroke((mark, tip), pen_of(fields, "purple", 2.0), layer_of(fields)),
        SignAt("bead", mark, colour),
        SignAt("barb", tip, colour, heading(mark, tip)),
        tag_of(fields, context, measured, tip, "purple"),
    )


def _tip(fields: Fields, context: Context, measured: Outcome, mark: Point) -> Point | None:
    """Where the arrow ends; None where its length is not known."""
    scale = context.px_per_metre(fields.speed, fields.placed)
    if not isinstance(measured, Measured) or scale is None:
        return None
    before, after = _neighbours(measured.frames, context.frame_at(fields.placed))
    way = heading(context.place_of(At(fields.speed, before)), context.place_of(At(fields.speed, after)))
    return toward(mark, way, measured.value * SHOWN * scale)


def _neighbours(frames: tuple[int, ...], frame: int) -> tuple[int, int]:
    """The frames before and after one of those measured; itself at an end, so that impact is not crossed."""
    index = frames.index(frame)
    return frames[max(0, index - 1)], frames[min(len(frames) - 1, index + 1)]


def name(fields: Fields, context: Context) -> str:
    space = IN_SPACE if fields.seen_in == "space" else ""
    return with_placed(f"Speed of {context.words.the(fields.speed)}{space}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    the = context.words.the(fields.speed)
    if not isinstance(measured, Measured):
        return with_placed(f"The speed of {the} is not measured", fields.placed)
    space = IN_SPACE if fields.seen_in == "space" else ""
    return with_placed(f"The speed of {the} is {amount(measured, context.units)}{space}", fields.placed)
