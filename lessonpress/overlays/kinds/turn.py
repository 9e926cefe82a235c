"""`turn: [a, b]`, how far the line has turned about the vertical since an instant."""

from __future__ import annotations

from collections.abc import Hashable

from lessonpress.manuscript import InstantText
from lessonpress.measure import At, Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import IN_SPACE, OverlayFields, SeenIn
from lessonpress.overlays.parts.marks import Two, places
from lessonpress.overlays.parts.numbers import amount
from lessonpress.overlays.parts.pens import colour_of, dot, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.shapes import Pen, Shape, SignAt, Stroke
from lessonpress.overlays.words import since_instant
from lessonpress.records import Instant

KIND = "turn"


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (2, 2)
    EXAMPLE = "turn: [trail-hip, lead-hip]"
    LETTER = "d"
    DIMENSION = "angle"

    turn: Two
    since: InstantText = Instant("setup", event="setup")
    seen_in: SeenIn = "picture"

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.seen_in)

    @property
    def marks(self) -> tuple[str, ...]:
        return self.turn

    @property
    def from_instant(self) -> Instant | None:
        return self.since


def needed(fields: Fields, context: Context) -> tuple[At, ...]:
    then, now = _ends(fields, context)
    return (*then, *now)


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    then, now = _ends(fields, context)
    if then == now:
        return Refusal(
            "it is counted from this very picture", "count it from another, or draw it `only` on others"
        )
    if fields.seen_in == "space":
        return context.survey.turn_in_space(then, now)
    return context.survey.turn(then, now)


def _ends(fields: Fields, context: Context) -> tuple[tuple[At, At], tuple[At, At]]:
    """The line's two marks then, and now."""
    a, b = fields.turn
    then = context.at(a, fields.since), context.at(b, fields.since)
    return then, (context.at(a, fields.placed), context.at(b, fields.placed))


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """The segment as it was, broken with hollow ends, and as it is, solid with filled ends."""
    then = tuple(context.position(mark, fields.since) for mark in fields.turn)
    now = places(fields, context)
    colour = colour_of(fields, "sky")
    return (
        Stroke(then, Pen(colour, 2.0, "then"), "standing"),
        *(SignAt("hollow", point, colour) for point in then),
        Stroke(now, pen_of(fields, "sky", 2.0), layer_of(fields)),
        *(dot(fields, point, "sky") for point in now),
        tag_of(fields, context, measured, now[-1], "sky"),
    )


def name(fields: Fields, context: Context) -> str:
    start, end = (context.words.mark(mark) for mark in fields.turn)
    space = IN_SPACE if fields.seen_in == "space" else ""
    return with_placed(f"Turn, {start} to {end}, {since_instant(fields.since)}{space}", fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    start, end = (context.words.mark(mark) for mark in fields.turn)
    line, since = f"line from {start} to {end}", since_instant(fields.since)
    space = IN_SPACE if fields.seen_in == "space" else ""
    if not isinstance(measured, Measured):
        of = f"The turn{space.replace(',', '')} of the {line} {since} is not measured"
        return with_placed(of, fields.placed, ", ")
    clause = f"The {line} has turned {amount(measured, context.units)} about the vertical {since}{space}"
    return with_placed(clause, fields.placed, ", ")
