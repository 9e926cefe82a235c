"""The marks an overlay names: how lists of them are typed, where they are needed and where they are drawn."""

from __future__ import annotations

from lessonpress.manuscript import MarkName
from lessonpress.measure import At
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.records import Point

Two = tuple[MarkName, MarkName]
Three = tuple[MarkName, MarkName, MarkName]


def needed_marks(fields: OverlayFields, context: Context) -> tuple[At, ...]:
    """Each mark named, at the panel's frame or at the instant it is placed from."""
    return tuple(context.at(mark, fields.placed) for mark in fields.marks)


def places(fields: OverlayFields, context: Context) -> tuple[Point, ...]:
    """Where each mark named is drawn, in the order written."""
    return tuple(context.position(mark, fields.placed) for mark in fields.marks)
