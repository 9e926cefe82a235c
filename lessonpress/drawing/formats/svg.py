"""SVG: the drawing as it is, picture and face inside the file, so that it needs nothing beside it."""

from __future__ import annotations

from lessonpress.drawing.alone import WIDTH, Label
from lessonpress.drawing.standalone import drawn_panel
from lessonpress.drawing.standalone_chart import DateWords, drawn_chart, with_numbers
from lessonpress.figures import Chart, FloorPlan, Panel
from lessonpress.measure import Units

SUFFIX = "svg"
NAME = "SVG"
SLOW = False
LIBRARIES = ("svgwrite",)
MANNER: tuple[float, ...] = ()


def panel(
    panel: Panel,
    picture: bytes,
    label: Label,
    *,
    units: Units,
    mirrored: bool = False,
    width: int = WIDTH,
    across: int | None = None,
) -> bytes:
    """picture: the crop's JPEG, PNG or WebP, as filmed (mirroring turns it here).

    across: of no effect, since lines have no pixels.
    """
    return drawn_panel(panel, picture, label, units, width, mirrored).encode()


def chart(
    chart: Chart | FloorPlan,
    label: Label,
    *,
    units: Units,
    date_words: DateWords,
    width: int = WIDTH,
    across: int | None = None,
) -> bytes:
    """Every number in words follows the label's description, since the table is elsewhere."""
    labelled = with_numbers(label, chart, units, date_words)
    return drawn_chart(chart, labelled, units, date_words, faced=True, width=width).encode()
