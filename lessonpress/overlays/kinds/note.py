"""`note: m`, the author's `text` beside a mark, led to it by a thin line."""

from __future__ import annotations

from collections.abc import Hashable

from lessonpress.manuscript import MarkName, Text
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields, Question
from lessonpress.overlays.parts.marks import needed_marks, places
from lessonpress.overlays.parts.pens import dot, tag_of
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.parts.unmeasured import measure_nothing
from lessonpress.overlays.shapes import Shape

KIND = "note"

DOT = 3.0  # CSS px


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "note: trail-elbow"
    LETTER = "y"
    QUESTIONS = (Question("text", "What does it say?"),)

    note: MarkName
    text: Text

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.note,)

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.text)


needed = needed_marks
measure = measure_nothing


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """A dot on the mark; the leader is the tag's own. A `label` is lettered in place of the text."""
    (mark,) = places(fields, context)
    tag = tag_of(fields, context, measured, mark, "black", words=fields.text)
    return (dot(fields, mark, "black", DOT), tag)


def name(fields: Fields, context: Context) -> str:
    return with_placed(f"Note at {context.words.the(fields.note)}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    where = with_placed(f"A note at {context.words.the(fields.note)}", fields.placed)
    return f"{where} says “{fields.text}”"
