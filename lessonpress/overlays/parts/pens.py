"""How kinds are inked: the author's colours, the standing look, dots and tags."""

from __future__ import annotations

from typing import get_args

from lessonpress.overlays.kind import Outcome
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.parts.numbers import on_tag
from lessonpress.overlays.shapes import Colour, Dash, Layer, Pen, Sign, SignAt, Stroke, Tag
from lessonpress.records import Point

NUMBERED: tuple[Colour, ...] = get_args(Colour)[1:]  # `colour: 1` is blue … 7 yellow; 0 would be black
STANDING_CORE = 1.8  # CSS px


def colour_of(fields: OverlayFields, own: Colour) -> Colour:
    """The author's colour, else the kind's own."""
    return own if fields.colour is None else NUMBERED[fields.colour - 1]


def pen_of(fields: OverlayFields, own: Colour, core: float, dash: Dash = "solid") -> Pen:
    """The kind's pen, or the dashed one of what is kept from another instant."""
    if fields.placed is not None:
        return Pen(colour_of(fields, own), STANDING_CORE, "standing")
    return Pen(colour_of(fields, own), core, dash)


def layer_of(fields: OverlayFields) -> Layer:
    return "live" if fields.placed is None else "standing"


def dot(fields: OverlayFields, at: Point, own: Colour, size: float | None = None) -> SignAt:
    """A dot on a mark: filled where it is now, hollow where it was."""
    sign: Sign = "dot" if fields.placed is None else "hollow"
    return SignAt(sign, at, colour_of(fields, own), size=size)


def tag_of(
    fields: OverlayFields,
    context: Context,
    measured: Outcome,
    anchor: Point,
    own: Colour,
    *,
    words: str = "",
    on_line: bool = False,
) -> Tag:
    """The overlay's tag: its number with ±, "not measured", or its letter alone; the author's label as words.

    on_line: a letter without words or number rides on the line at `anchor`.
    """
    said = words if fields.label is None else fields.label
    value, pm = on_tag(measured, context.units)
    return Tag(
        anchor,
        colour_of(fields, own),
        words=said,
        value=value,
        pm=pm,
        on_line=on_line and not said and not value,
        blank=fields.placed is not None and measured is None,
    )


def black_segment(fields: OverlayFields, start: Point, end: Point) -> Stroke:
    """The plain segment of kinds without a measure."""
    return Stroke((start, end), pen_of(fields, "black", 2.5), layer_of(fields))
