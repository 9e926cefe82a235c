"""`shift: m`, how far a mark has travelled `since` an instant: along the level, up or down, or straight."""

from __future__ import annotations

from lessonpress.manuscript import InstantText, MarkName
from lessonpress.measure import At, Measured, Refusal
from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.numbers import amount, amount_and_way
from lessonpress.overlays.parts.pens import colour_of, layer_of, pen_of, tag_of
from lessonpress.overlays.parts.plane import crossing, heading, toward
from lessonpress.overlays.parts.tenses import with_placed
from lessonpress.overlays.parts.ways import WAYS
from lessonpress.overlays.shapes import Band, Shape, SignAt, Stroke
from lessonpress.overlays.words import at_instant, sentence_case, since_instant
from lessonpress.records import Axis, Instant, Point

KIND = "shift"

_MOVED: dict[Axis, str] = {"level": "", "plumb": " up or down", "straight": " in a straight line"}


class Fields(OverlayFields):
    KEY = KIND
    COUNT = (1, 1)
    EXAMPLE = "shift: navel"
    LETTER = "s"
    DIMENSION = "length"

    shift: MarkName
    since: InstantText = Instant("setup", event="setup")
    axis: Axis = "level"

    @property
    def marks(self) -> tuple[str, ...]:
        return (self.shift,)

    @property
    def along(self) -> Axis | None:
        return self.axis

    @property
    def from_instant(self) -> Instant | None:
        return self.since

    @property
    def ways(self) -> tuple[str, ...]:
        return WAYS[self.axis]


def needed(fields: Fields, context: Context) -> tuple[At, ...]:
    return context.at(fields.shift, fields.since), context.at(fields.shift, fields.placed)


def measure(fields: Fields, context: Context) -> Measured | Refusal:
    then, now = needed(fields, context)
    if then == now:
        return Refusal(
            "it is counted from this very picture", "count it from another, or draw it `only` on others"
        )
    return context.survey.shift(then, now, fields.axis)


def shapes(fields: Fields, context: Context, measured: Outcome) -> tuple[Shape, ...]:
    """From a hollow dot where it was to a barb where it is, in a band of ±."""
    now = context.position(fields.shift, fields.placed)
    then = _start(fields, context, now)
    colour = colour_of(fields, "vermilion")
    band = _band(fields, context, measured, then, now)
    reach = sum(one.width / 2 for one in band)
    return (
        *band,
        Stroke((then, now), pen_of(fields, "vermilion", 3.0), layer_of(fields)),
        SignAt("hollow", then, colour),
        SignAt("barb", now, colour, heading(then, now)),
        tag_of(fields, context, measured, toward(now, heading(then, now), reach), "vermilion"),
    )


def _start(fields: Fields, context: Context, now: Point) -> Point:
    """Where the arrow begins: the place it came from, brought onto the axis through where it is now."""
    then = context.position(fields.shift, fields.since)
    if fields.axis == "level":
        return crossing(context.plumb_piece(then), context.level_piece(now)) or then
    if fields.axis == "plumb":
        return crossing(context.level_piece(then), context.plumb_piece(now)) or then
    return then


def _positive(fields: Fields, context: Context, then: Point, now: Point) -> float:
    """The way in the picture that the number grows, degrees."""
    if fields.axis == "level":
        left, right = context.level_piece(now)
        return heading(left, right) if context.positive_right > 0 else heading(right, left)
    if fields.axis == "plumb":
        upper, lower = context.plumb_piece(now)
        return heading(lower, upper)
    return heading(then, now)


def _band(fields: Fields, context: Context, measured: Outcome, then: Point, now: Point) -> tuple[Band, ...]:
    """Between the least and the greatest the shift may truly be, to scale; none without a number."""
    scale = context.px_per_metre(fields.shift, fields.placed)
    if not isinstance(measured, Measured) or scale is None:
        return ()
    way = _positive(fields, context, then, now)
    aside = ((measured.low + measured.high) / 2 - measured.value) * scale
    width = (measured.high - measured.low) * scale
    return (Band(toward(now, way, aside), width, way, colour_of(fields, "vermilion")),)


def name(fields: Fields, context: Context) -> str:
    the = context.words.the(fields.shift)
    clause = f"Shift of {the}{_MOVED[fields.axis]} {since_instant(fields.since)}"
    return with_placed(clause, fields.placed, ", ")


def sentence(fields: Fields, context: Context, measured: Outcome) -> str:
    the = context.words.the(fields.shift)
    if not isinstance(measured, Measured):
        clause = f"The shift of {the}{_MOVED[fields.axis]} {since_instant(fields.since)} is not measured"
        return with_placed(clause, fields.placed, ", ")
    moved = amount_and_way(measured, context.units)
    if fields.axis == "straight":
        moved = f"{amount(measured, context.units)}{_MOVED[fields.axis]}"
    if context.frame_of(fields.since) > context.frame_at(fields.placed):
        since = at_instant(fields.since, short=True)
        clause = f"{sentence_case(the)} lies {moved}, counted from its place {since}"
        return with_placed(clause, fields.placed, ", ")
    return with_placed(
        f"{sentence_case(the)} has moved {moved} {since_instant(fields.since)}", fields.placed, ", "
    )
