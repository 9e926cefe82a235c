"""`ring: m`, a ring round a mark, `size` across."""

from __future__ import annotations

from lessonpress.manuscript import LengthText, MarkName
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.marks import needed_marks, places
from lessonpress.overlays.parts.numbers import written_length
from lessonpress.overlays.parts.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import toward
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.parts.unmeasured import lettered, measure_nothing
from lessonpress.overlays.shapes import Arc, Shape, SignAt

KIND = "ring"

USUAL_ACROSS = 24.0  # px of a picture whose shorter side has 720, in proportion on any other
QUARTERS = (0.0, 90.0, 180.0, 270.0)


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "ring: head"
    LETTER = "t"

    ring: MarkName
    size: LengthText | None = None

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.ring,)

    @property
    def needs_scale(self) -> bool:
        return self.size is not None


needed = needed_marks
measure = measure_nothing


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """A full circle with four ticks outward; its size is that of a thing at the mark's own depth."""
    (centre,) = places(fields, context)
    radius = _across(fields, context) / 2
    colour = colour_of(fields, "black")
    ticks = (SignAt("tick", toward(centre, angle, radius), colour, angle) for angle in QUARTERS)
    return (
        Arc(centre, radius, 0.0, 360.0, pen_of(fields, "black", 2.5), layer=layer_of(fields)),
        *ticks,
        tag_of(fields, context, measured, toward(centre, 0.0, radius), "black"),
    )


def _across(fields: Fields, context: Context) -> float:
    """The ring's width in px; the usual one where no length is given, or none can be drawn to scale."""
    scale = None if fields.size is None else context.px_per_metre(fields.ring, fields.placed)
    if fields.size is None or scale is None:
        return USUAL_ACROSS * min(context.size) / 720
    return fields.size.metres * scale


def name(fields: Fields, context: Context) -> str:
    return with_placed(f"Ring round {context.words.the(fields.ring)}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    clause = f"A ring lies round {context.words.the(fields.ring)}"
    if fields.size is not None and context.px_per_metre(fields.ring, fields.placed) is not None:
        across = written_length(fields.size, context)
        clause = f"A ring {across} across lies round {context.words.the(fields.ring)}"
    return lettered(with_placed(clause, fields.placed), fields)
