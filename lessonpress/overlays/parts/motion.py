"""Kinds that follow a mark over frames: which frames show it, and the stretch an author names."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Annotated

from pydantic import Field

from lessonpress.manuscript import InstantText
from lessonpress.measure import At
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.words import from_instant, to_instant
from lessonpress.records import Instant


class StretchFields(OverlayFields):
    """`from` an instant (setup, where it is left out) `to` another (the figure's own frame)."""

    PLACED = False

    start: Annotated[InstantText, Field(alias="from")] = Instant("setup", event="setup")
    end: Annotated[InstantText | None, Field(alias="to")] = None

    @property
    def from_instant(self) -> Instant | None:
        return self.start

    @property
    def identity(self) -> tuple[Hashable, ...]:
        return (*super().identity, self.end.text if self.end is not None else None)


def stretch(fields: StretchFields, context: Context) -> tuple[int, int]:
    """The first and the last frame of the stretch, whichever of its ends is written first."""
    first, last = sorted((context.frame_of(fields.start), context.frame_at(fields.end)))
    return first, last


def seen(context: Context, mark: str, first: int, last: int) -> tuple[At, ...]:
    """The mark on each frame of a stretch, both ends included, where it is placed or tracked."""
    return tuple(at for frame in range(first, last + 1) if context.seen(at := At(mark, frame)))


def stretch_words(fields: StretchFields) -> str:
    """ "from setup to the top"; without its end where that is the picture's own frame."""
    start = from_instant(fields.start)
    return start if fields.end is None else f"{start} {to_instant(fields.end)}"
