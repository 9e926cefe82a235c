"""`vertical: m`, a plumb line dropped from a mark; with `placed` it is where the mark once was."""

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

KIND = "vertical"

LETTER_DOWN = 0.08  # of the crop's height: a standing line's letter, from the plate's upper edge
RING = 4.0  # CSS px, the radius of the ring on the mark


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "vertical: navel"
    LETTER = "q"
    BAR_ZERO = True

    vertical: MarkName

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.vertical,)


needed = needed_marks
measure = measure_nothing


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """A line along the room's vertical, a bob at its foot; live ones start at the mark in a hollow ring.

    The line runs to the plate's lower edge, a standing one from its upper edge; drawing hangs the bob within.
    """
    (mark,) = places(fields, context)
    standing = fields.placed is not None
    _, top, _, bottom = context.crop
    line = cut(context.vertical(mark), 1, top if standing else mark[1], max(bottom, mark[1] + 1.0))
    letter = between(line[0], line[-1], LETTER_DOWN if standing else 0.5)
    colour = colour_of(fields, "black")
    bob = SignAt("hollow-bob" if standing else "bob", line[-1], colour, heading(*line[-2:]))
    ring = () if standing else (SignAt("hollow", mark, colour, size=RING),)
    return (
        Stroke(line, pen_of(fields, "black", 2.5), layer_of(fields), through=True),
        bob,
        *ring,
        tag_of(fields, context, measured, letter, "black", on_line=True),
    )


def name(fields: Fields, context: Context) -> str:
    if fields.placed is None:
        return f"Vertical through {context.words.the(fields.vertical)}"
    return f"Vertical {where_placed(fields.vertical, context, fields.placed)}"


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    if fields.placed is None:
        return lettered(f"A vertical line drops from {context.words.the(fields.vertical)}", fields)
    return lettered(f"A vertical line marks {where_placed(fields.vertical, context, fields.placed)}", fields)
