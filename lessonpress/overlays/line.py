"""`line: [a, b]`, a plain segment between two marks."""

from __future__ import annotations

from lessonpress.overlays.fields import OverlayFields
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.marks import Two, needed_marks, places
from lessonpress.overlays.pens import black_segment, dot, tag_of
from lessonpress.overlays.plane import between
from lessonpress.overlays.shapes import Shape
from lessonpress.overlays.stage import Stage
from lessonpress.overlays.tenses import with_placed
from lessonpress.overlays.unmeasured import lettered, measure

__all__ = ["KIND", "MEASURES", "Fields", "measure", "name", "needed", "sentence", "shapes"]

KIND = "line"
MEASURES = False


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "line: [lead-shoulder, trail-shoulder]"

    line: Two

    @property
    def marks(self) -> tuple[str, ...]:
        return self.line


needed = needed_marks


def shapes(fields: Fields, stage: Stage, measured: Outcome) -> tuple[Shape, ...]:
    """The segment with a dot on each mark."""
    start, end = places(fields, stage)
    return (
        black_segment(fields, start, end),
        dot(fields, start, "black"),
        dot(fields, end, "black"),
        tag_of(fields, stage, measured, between(start, end), "black"),
    )


def name(fields: Fields, stage: Stage) -> str:
    start, end = (stage.words.mark(mark) for mark in fields.line)
    return with_placed(f"Line, {start} to {end}", fields.placed, ", ")


def sentence(fields: Fields, stage: Stage, measured: Outcome) -> str:
    start, end = (stage.words.the(mark) for mark in fields.line)
    return lettered(with_placed(f"A line joins {start} and {end}", fields.placed), fields)
