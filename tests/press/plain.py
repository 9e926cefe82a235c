"""A format that the program does not have: the drawing's label as plain text."""

from __future__ import annotations

from lessonpress.drawing import DateWords, Label
from lessonpress.figures.plates import Chart, Panel
from lessonpress.measure import Units

SUFFIX = "txt"
NAME = "Text"
SLOW = False
LIBRARIES = ()
MANNER = ()


def panel(panel: Panel, picture: bytes, label: Label, *, units: Units, mirrored: bool, **_: object) -> bytes:
    return f"{label.lesson}: {label.heading}\n".encode()


def chart(chart: Chart, label: Label, *, units: Units, date_words: DateWords, **_: object) -> bytes:
    return f"{label.lesson}: {label.heading}\n".encode()
