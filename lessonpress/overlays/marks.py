"""The marks an overlay names: how lists of them are typed, where they are needed and where they are drawn."""

from __future__ import annotations

from lessonpress.manuscript.fieldtypes import MarkName
from lessonpress.measure import At
from lessonpress.overlays.fields import OverlayFields
from lessonpress.overlays.shapes import Point
from lessonpress.overlays.stage import Stage

Two = tuple[MarkName, MarkName]
Three = tuple[MarkName, MarkName, MarkName]


def needed_marks(fields: OverlayFields, stage: Stage) -> tuple[At, ...]:
    """Each mark named, at the panel's frame or at the instant it is placed from."""
    return tuple(stage.at(mark, fields.placed) for mark in fields.marks)


def places(fields: OverlayFields, stage: Stage) -> tuple[Point, ...]:
    """Where each mark named is drawn, in the order written."""
    return tuple(stage.place(mark, fields.placed) for mark in fields.marks)
