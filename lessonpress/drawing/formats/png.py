"""PNG: the same drawing in pixels, lettered with the packaged face and no other; facts inside the file."""

from __future__ import annotations

import math
from io import BytesIO

from PIL import Image

from lessonpress.drawing.alone import Label
from lessonpress.drawing.burning import laid_on
from lessonpress.drawing.palette import GROUND
from lessonpress.drawing.pictured import COLOURS, EFFORT, Pictured
from lessonpress.drawing.pixels import COARSEST, FINEST, ink_of, px_across
from lessonpress.drawing.rendering import Readied
from lessonpress.drawing.scaling import scaled
from lessonpress.drawing.standalone import PanelAlone
from lessonpress.drawing.standalone_chart import ChartAlone

SUFFIX = "png"
NAME = "PNG"
SLOW = True
LIBRARIES = ("resvg", "svgwrite", "pillow", "opencv-python")

MANNER = (COARSEST, FINEST, EFFORT, COLOURS)


def panel(panel: PanelAlone, picture: bytes, across: int | None = None) -> bytes:
    """across: px that it is wide; as many as the picture is worth where none are given."""
    return panel_pictured(panel, picture, across).png()


def chart(chart: ChartAlone, across: int | None = None) -> bytes:
    """With title, description, numbers and credit inside the file."""
    return chart_pictured(chart, across).png()


def panel_pictured(panel: PanelAlone, picture: bytes, across: int | None = None) -> Pictured:
    """The picture with its overlays, as a loop has them, and below it what is lettered on the ground."""
    layout = panel.layout
    zoom = (across or px_across(panel.panel.crop, panel.width)) / panel.width
    size = (round(panel.width * zoom), round(layout.height * zoom))
    filmed = scaled(Image.open(BytesIO(picture)).convert("RGB"), size)
    shown = laid_on(filmed, panel.overlays, layout)
    whole = Image.new("RGB", (shown.width, shown.height + math.ceil(panel.below.height * zoom)), GROUND)
    whole.paste(shown)
    ink_of(panel.below.pieces, zoom).laid_on(whole, top=shown.height)
    return Pictured(whole, _said(panel.label, panel.credit), filmed=True)


def chart_pictured(chart: ChartAlone, across: int | None = None) -> Pictured:
    # The renderer reads no compressed faces and no weights between the hundreds, so none are put in.
    drawn = chart.svg("", faced=False)
    zoom = FINEST if across is None else across / chart.width
    whole = Image.open(BytesIO(Readied(drawn).whole(zoom))).convert("RGB")
    return Pictured(whole, _said(chart.said, chart.credit), filmed=False)


def _said(label: Label, credit: str) -> dict[str, str]:
    return {"Title": label.title, "Description": label.description, "Copyright": credit}
