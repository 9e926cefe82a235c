"""`balance`, the centre of mass with its plumb line, and where it hangs between the ankles."""

from __future__ import annotations

from lessonpress.measure import At, Measured, Refusal, mark_weights
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import between, cut, heading
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.shapes import Shape, SignAt, Stroke

KIND = "balance"

ANKLES = ("trail-ankle", "lead-ankle")
PAST = 0.02  # of the crop's height: how far the plumb line runs past the lower ankle


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (0, 0)
    EXAMPLE = "balance"
    LETTER = "k"
    DIMENSION = "percent"

    balance: None = None


def needed(fields: Fields, context: Context) -> tuple[At, ...]:
    """Every mark that carries a part of the body's mass."""
    return tuple(context.at(mark, fields.placed) for mark in mark_weights())


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    return context.survey.balance(context.frame_at(fields.placed))


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """A quartered disc at the centre of mass, a plumb line from it to the feet, a stop at each ankle."""
    trail, lead = (context.position(mark, fields.placed) for mark in ANKLES)
    colour, way = colour_of(fields, "orange"), heading(*context.level_piece(between(trail, lead)))
    stops = (SignAt("stop", trail, colour, way), SignAt("stop", lead, colour, way))
    frame = context.frame_at(fields.placed)
    centre = context.survey.centre_of_mass(frame)
    if isinstance(centre, Refusal):
        return (*stops, tag_of(fields, context, measured, between(trail, lead), "orange"))
    centre = context.survey.carried(centre, frame, context.frame)
    feet = max(trail[1], lead[1], centre[1]) + PAST * context.crop_height
    plumb = (centre, *cut(context.vertical(centre), 1, centre[1], feet)[1:])
    return (
        Stroke(plumb, pen_of(fields, "orange", 2.0, "balance"), layer_of(fields)),
        *stops,
        SignAt("disc", centre, colour),
        tag_of(fields, context, measured, plumb[-1], "orange"),
    )


def name(fields: Fields, context: Context) -> str:
    return with_placed("Balance, trail ankle to lead ankle", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    if not isinstance(measured, Measured):
        return with_placed("Where the centre of mass lies between the ankles is not measured", fields.placed)
    share = amount(measured, context.units)
    clause = f"The centre of mass lies {share} of the way from the trail ankle to the lead ankle"
    return with_placed(clause, fields.placed)
