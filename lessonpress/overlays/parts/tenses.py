"""An instant in words, as seen from the picture it is looked at from."""

from __future__ import annotations

from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.words import at_instant
from lessonpress.records import Instant


def stood(context: Context, instant: Instant) -> str:
    """ "was" for an instant before the panel's frame, "is" at it, "will be" after it."""
    frame = context.frame_of(instant)
    if frame == context.frame:
        return "is"
    return "was" if frame < context.frame else "will be"


def where_placed(mark: str, context: Context, placed: Instant) -> str:
    """ "where the trail hip was at setup"."""
    return f"where {context.words.the(mark)} {stood(context, placed)} {at_instant(placed, short=True)}"


def with_placed(clause: str, placed: Instant | None, gap: str = " ") -> str:
    """The clause, with the instant its marks are taken from where that is not the panel's own."""
    return clause if placed is None else f"{clause}{gap}{at_instant(placed, short=True)}"
