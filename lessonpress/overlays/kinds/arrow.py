"""`arrow: [a, b]`, a segment with a barbed head at its second mark."""

from __future__ import annotations

from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.marks import Two, needed_marks, places
from lessonpress.overlays.parts.pens import black_segment, colour_of, tag_of
from lessonpress.overlays.parts.plane import between, heading
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.parts.unmeasured import lettered, measure_nothing
from lessonpress.overlays.shapes import Shape, SignAt

KIND = "arrow"


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "arrow: [trail-hip, lead-hip]"
    LETTER = "r"

    arrow: Two

    @property
    def marks(self) -> tuple[str, ...]:
        return self.arrow


needed = needed_marks
measure = measure_nothing


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The segment, plain at its tail, the barb's point on the second mark."""
    tail, head = places(fields, context)
    return (
        black_segment(fields, tail, head),
        SignAt("barb", head, colour_of(fields, "black"), heading(tail, head)),
        tag_of(fields, context, measured, between(tail, head), "black"),
    )


def name(fields: Fields, context: Context) -> str:
    tail, head = (context.words.mark(mark) for mark in fields.arrow)
    return with_placed(f"Arrow, {tail} to {head}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    tail, head = (context.words.the(mark) for mark in fields.arrow)
    return lettered(with_placed(f"An arrow points from {tail} to {head}", fields.placed), fields)
