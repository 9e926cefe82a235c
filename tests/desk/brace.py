"""An overlay kind that the program does not have: `brace: [a, b]`, with a text of its own and a number."""

from __future__ import annotations

from lessonpress.manuscript.fields.fieldtypes import Text
from lessonpress.measure import Measured, Refusal
from lessonpress.overlays import Context, Outcome, OverlayFields, Question
from lessonpress.overlays.parts.marks import Two, needed_marks, places
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import black_segment, tag_of
from lessonpress.overlays.parts.plane import between
from lessonpress.overlays.shapes import Shape

KIND = "brace"


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "brace: [navel, c7]"
    DIMENSION = "length"
    QUESTIONS = (Question("why", "Why is it braced?"),)

    brace: Two
    why: Text

    @property
    def marks(self) -> tuple[str, ...]:
        return self.brace


needed = needed_marks


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    return context.survey.distance(*needed(fields, context), "straight")


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    start, end = places(fields, context)
    return (
        black_segment(fields, start, end),
        tag_of(fields, context, measured, between(start, end), "green"),
    )


def name(fields: Fields, context: Context) -> str:
    return f"Brace, {' to '.join(context.words.mark(mark) for mark in fields.brace)}"


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    assert isinstance(measured, Measured)
    return f"A brace of {amount(measured, context.units)} holds for {fields.why}"
