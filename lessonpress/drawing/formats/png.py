"""PNG: the same drawing in pixels, lettered with the packaged face and no other; facts inside the file."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from io import BytesIO

from PIL import Image
from PIL.PngImagePlugin import PngInfo

from lessonpress.drawing.alone import WIDTH, Label, credit_words
from lessonpress.drawing.burning import burned
from lessonpress.drawing.palette import GROUND
from lessonpress.drawing.pixels import COARSEST, FINEST, ink_of, px_across
from lessonpress.drawing.plate import layout_for
from lessonpress.drawing.rendering import Readied
from lessonpress.drawing.standalone import below
from lessonpress.drawing.standalone_chart import DateWords, drawn_chart, with_numbers
from lessonpress.figures import Chart, FloorPlan, Panel
from lessonpress.measure import Units

SUFFIX = "png"
NAME = "PNG"
SLOW = True
LIBRARIES = ("resvg", "svgwrite", "pillow")

EFFORT = 4  # of the compression, 0 to 9: 4 % more bytes than 5 in half of its time (measured)
MANNER = (COARSEST, FINEST, EFFORT)


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
    """The picture with its overlays, as a loop has them, and below it what is lettered on the ground.

    across: px that it is wide; as many as the picture is worth where none are given.
    """
    layout = layout_for(panel, float(width), mirrored=mirrored)
    zoom = (across or px_across(panel.crop, width)) / width
    size = (round(width * zoom), round(layout.height * zoom))
    filmed = Image.open(BytesIO(picture)).convert("RGB").resize(size, Image.Resampling.BICUBIC)
    shown = burned(replace(panel, mirrored=mirrored), filmed, width)
    under = below(panel, layout, label, units, top=0.0)
    whole = Image.new("RGB", (shown.width, shown.height + math.ceil(under.height * zoom)), GROUND)
    whole.paste(shown)
    ink_of(under.pieces, zoom).laid_on(whole, top=shown.height)
    return _written(whole, label, credit_words([panel.credit]))


def chart(
    chart: Chart | FloorPlan,
    label: Label,
    *,
    units: Units,
    date_words: DateWords,
    width: int = WIDTH,
    across: int | None = None,
) -> bytes:
    """With title, description, numbers and credit inside the file."""
    # The renderer reads no compressed faces and no weights between the hundreds, so none are put in.
    drawn = drawn_chart(chart, replace(label, description=""), units, date_words, faced=False, width=width)
    zoom = FINEST if across is None else across / width
    whole = Image.open(BytesIO(Readied(drawn).whole(zoom))).convert("RGB")
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
    whole.save(written, "PNG", pnginfo=facts, compress_level=EFFORT)
    return written.getvalue()
