"""An instant in words, as seen from the picture it is looked at from."""

from __future__ import annotations

from lessonpress.overlays.stage import Stage
from lessonpress.overlays.words import at_instant
from lessonpress.records.instant import Instant


def stood(stage: Stage, instant: Instant) -> str:
    """ "was" for an instant before the panel's frame, "is" at it, "will be" after it."""
    frame = stage.frame_of(instant)
    if frame == stage.frame:
        return "is"
    return "was" if frame < stage.frame else "will be"


def where_placed(mark: str, stage: Stage, placed: Instant) -> str:
    """ "where the trail hip was at setup"."""
    return f"where {stage.words.the(mark)} {stood(stage, placed)} {at_instant(placed, short=True)}"


def with_placed(clause: str, placed: Instant | None, gap: str = " ") -> str:
    """The clause, with the instant its marks are taken from where that is not the panel's own."""
    return clause if placed is None else f"{clause}{gap}{at_instant(placed, short=True)}"
