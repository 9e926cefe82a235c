"""SVG: the drawing as it is, picture and face inside the file, so that it needs nothing beside it."""

from __future__ import annotations

from lessonpress.drawing.standalone import PanelAlone, embedded
from lessonpress.drawing.standalone_chart import ChartAlone

SUFFIX = "svg"
NAME = "SVG"
SLOW = False
LIBRARIES = ("svgwrite",)
MANNER: tuple[float, ...] = ()


def panel(panel: PanelAlone, picture: bytes, across: int | None = None) -> bytes:
    """picture: the crop's JPEG, PNG or WebP, as filmed (mirroring turns it here).

    across: of no effect, since lines have no pixels.
    """
    return panel.svg(embedded(picture)).encode()


def chart(chart: ChartAlone, across: int | None = None) -> bytes:
    """With its numbers in words."""
    return chart.svg(chart.said.description).encode()
