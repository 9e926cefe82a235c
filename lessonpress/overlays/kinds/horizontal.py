"""`horizontal: m`, a level line through a mark, from edge to edge of the plate."""

from __future__ import annotations

from lessonpress.manuscript import MarkName
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.marks import needed_marks, places
from lessonpress.overlays.parts.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import between, cut, heading
from lessonpress.overlays.parts.tenses import where_placed
from lessonpress.overlays.parts.unmeasured import lettered, measure_nothing
from lessonpress.overlays.shapes import Shape, SignAt, Stroke

KIND = "horizontal"

SIDE_ROOM = 0.06  # of the crop's width, left free at each end
LETTER_ALONG = 0.85  # of the line's length: clear of the body, which is in the middle


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "horizontal: navel"
    LETTER = "w"

    horizontal: MarkName

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.horizontal,)


needed = needed_marks
measure = measure_nothing


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """A line along the room's level through the mark, a stop at each end."""
    (mark,) = places(fields, context)
    room = SIDE_ROOM * context.crop_width
    line = cut(context.level(mark), 0, context.crop[0] + room, context.crop[2] - room)
    colour = colour_of(fields, "black")
    return (
        Stroke(line, pen_of(fields, "black", 2.5), layer_of(fields), through=True),
        SignAt("stop", line[0], colour, heading(*line[:2])),
        SignAt("stop", line[-1], colour, heading(*line[-2:])),
        tag_of(fields, context, measured, between(line[0], line[-1], LETTER_ALONG), "black", on_line=True),
    )


def name(fields: Fields, context: Context) -> str:
    if fields.placed is None:
        return f"Level through {context.words.the(fields.horizontal)}"
    return f"Level {where_placed(fields.horizontal, context, fields.placed)}"


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    if fields.placed is None:
        return lettered(f"A level line runs through {context.words.the(fields.horizontal)}", fields)
    return lettered(f"A level line marks {where_placed(fields.horizontal, context, fields.placed)}", fields)
