"""A format that the program does not have: the drawing's label as plain text."""

from __future__ import annotations

from lessonpress.drawing import ChartAlone, PanelAlone

SUFFIX = "txt"
NAME = "Text"
SLOW = False
LIBRARIES = ()
MANNER = ()


def panel(panel: PanelAlone, picture: bytes, across: int | None = None) -> bytes:
    return f"{panel.label.lesson}: {panel.label.heading}\n".encode()


def chart(chart: ChartAlone, across: int | None = None) -> bytes:
    return f"{chart.label.lesson}: {chart.label.heading}\n".encode()
