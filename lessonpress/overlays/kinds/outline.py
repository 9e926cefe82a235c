"""`outline: [a, b, c, …]`, a closed shape through three marks or more, hatched within."""

from __future__ import annotations

from lessonpress.manuscript import MarkName
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.curves import closed_curve
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.marks import needed_marks, places
from lessonpress.overlays.parts.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import length
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.parts.unmeasured import lettered, measure_nothing
from lessonpress.overlays.shapes import Area, Shape, Stroke
from lessonpress.overlays.words import joined
from lessonpress.records import Point

KIND = "outline"


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (3, None)
    EXAMPLE = "outline: [lead-heel, lead-toe, lead-ankle]"
    LETTER = "u"

    outline: tuple[MarkName, ...]

    @property
    def marks(self) -> tuple[str, ...]:
        return self.outline


needed = needed_marks
measure = measure_nothing


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """A smooth closed curve that passes through every mark, in the order written."""
    marks = places(fields, context)
    curve = closed_curve(marks)
    return (
        Area(curve, colour_of(fields, "sky"), layer="hatch", hatched=True),
        Stroke(curve, pen_of(fields, "sky", 2.0), layer_of(fields), closed=True),
        tag_of(fields, context, measured, _outermost(marks, context), "sky"),
    )


def _outermost(marks: tuple[Point, ...], context: Context) -> Point:
    """The mark farthest from the plate's middle, where a leader crosses the least."""
    left, top, right, bottom = context.crop
    return max(marks, key=lambda mark: length(((left + right) / 2, (top + bottom) / 2), mark))


def name(fields: Fields, context: Context) -> str:
    marks = joined([context.words.mark(mark) for mark in fields.outline])
    return with_placed(f"Outline of {marks}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    marks = joined([context.words.the(mark) for mark in fields.outline])
    return lettered(with_placed(f"A hatched shape is drawn through {marks}", fields.placed), fields)
