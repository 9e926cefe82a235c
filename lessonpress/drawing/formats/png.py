"""PNG: the same drawing in pixels, lettered with the packaged face and no other; facts inside the file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from io import BytesIO

from PIL import Image, ImageOps
from PIL.PngImagePlugin import PngInfo

from lessonpress.drawing.alone import WIDTH, Label, credit_words, render_png
from lessonpress.drawing.layout import Layout
from lessonpress.drawing.palette import GROUND
from lessonpress.drawing.plate import layout_for
from lessonpress.drawing.standalone import drawn_panel
from lessonpress.drawing.standalone_chart import DateWords, drawn_chart, with_numbers
from lessonpress.figures import Chart, Panel
from lessonpress.measure import Units

SUFFIX = "png"
NAME = "PNG"
SLOW = True
LIBRARIES = ("resvg-py", "svgwrite", "pillow")

ZOOM = 2.0  # px to a CSS px


def panel(
    panel: Panel,
    picture: bytes,
    label: Label,
    *,
    units: Units,
    mirrored: bool = False,
    width: float = WIDTH,
    zoom: float = ZOOM,
) -> bytes:
    """The renderer draws all but the picture, which is laid under it: enlarging pictures is slow there."""
    # The renderer reads no compressed faces and no weights between the hundreds, so none are put in.
    drawn = drawn_panel(panel, None, replace(label, description=""), units, width, mirrored, faced=False)
    over = Image.open(BytesIO(render_png(drawn, zoom))).convert("RGBA")
    layout = layout_for(panel, width, mirrored=mirrored)
    whole = Image.new("RGB", over.size, GROUND)
    whole.paste(_under(picture, layout, zoom))
    whole.paste(over, mask=over)
    return _written(whole, label, credit_words([panel.credit]))


def _under(picture: bytes, layout: Layout, zoom: float) -> Image.Image:
    size = (round(layout.width * zoom), round(layout.height * zoom))
    shown = Image.open(BytesIO(picture)).convert("RGB").resize(size, Image.Resampling.LANCZOS)
    return ImageOps.mirror(shown) if layout.mirrored else shown


def chart(
    chart: Chart,
    label: Label,
    *,
    units: Units,
    date_words: DateWords,
    width: float = WIDTH,
    zoom: float = ZOOM,
) -> bytes:
    """With title, description, numbers and credit inside the file."""
    drawn = drawn_chart(chart, replace(label, description=""), units, date_words, faced=False, width=width)
    whole = Image.open(BytesIO(render_png(drawn, zoom))).convert("RGB")
    return _written(whole, with_numbers(label, chart, units, date_words), credit_words(chart.credits))


def _written(whole: Image.Image, label: Label, credit: str) -> bytes:
    """With title, description and credit inside the file."""
    return keep(
        quantized(whole), {"Title": label.title, "Description": label.description, "Copyright": credit}
    )


def quantized(whole: Image.Image) -> Image.Image:
    """The picture in 256 colours: a quarter of the bytes, overlays kept to one step in 255 (tried)."""
    return whole.quantize(256, method=Image.Quantize.FASTOCTREE)


def keep(whole: Image.Image, said: Mapping[str, str]) -> bytes:
    """The picture as PNG. said: by keyword, those without words left out.

    They travel inside the file, under keywords of the PNG specification (W3C PNG, third edition, 11.3.3.1),
    where picture libraries and mail programs look for them.
    """
    facts = PngInfo()
    for keyword, words in said.items():
        if words:
            facts.add_itxt(keyword, words)
    written = BytesIO()
    whole.save(written, "PNG", pnginfo=facts)
    return written.getvalue()
