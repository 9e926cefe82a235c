"""`line: [a, b]`, a plain segment between two marks."""

from __future__ import annotations

from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.marks import Two, needed_marks, places
from lessonpress.overlays.parts.pens import black_segment, dot, tag_of
from lessonpress.overlays.parts.plane import between
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.parts.unmeasured import lettered, measure_nothing
from lessonpress.overlays.shapes import Shape

KIND = "line"


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "line: [lead-shoulder, trail-shoulder]"
    LETTER = "e"

    line: Two

    @property
    def marks(self) -> tuple[str, ...]:
        return self.line


needed = needed_marks
measure = measure_nothing


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The segment with a dot on each mark."""
    start, end = places(fields, context)
    return (
        black_segment(fields, start, end),
        dot(fields, start, "black"),
        dot(fields, end, "black"),
        tag_of(fields, context, measured, between(start, end), "black"),
    )


def name(fields: Fields, context: Context) -> str:
    start, end = (context.words.mark(mark) for mark in fields.line)
    return with_placed(f"Line, {start} to {end}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    start, end = (context.words.the(mark) for mark in fields.line)
    return lettered(with_placed(f"A line joins {start} and {end}", fields.placed), fields)
