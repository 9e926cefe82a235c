"""PNG: the same drawing in pixels, lettered with the packaged face and no other; facts inside the file."""

from __future__ import annotations

import math
from collections.abc import Mapping
from io import BytesIO
from typing import cast

from PIL import Image
from PIL.PngImagePlugin import PngInfo

from lessonpress.drawing.alone import Label
from lessonpress.drawing.burning import laid_on
from lessonpress.drawing.palette import GROUND
from lessonpress.drawing.pixels import COARSEST, FINEST, ink_of, px_across
from lessonpress.drawing.rendering import Readied
from lessonpress.drawing.standalone import PanelAlone
from lessonpress.drawing.standalone_chart import ChartAlone

SUFFIX = "png"
NAME = "PNG"
SLOW = True
LIBRARIES = ("resvg", "svgwrite", "pillow")

EFFORT = 4  # of the compression, 0 to 9: 4 % more bytes than 5 in half of its time (measured)
MOST = 256  # colours of a PNG with a byte to each px
COLOURS = 128  # of a picture: as like it as 256 chosen from all px, and 3 % more bytes (measured)
MANNER = (COARSEST, FINEST, EFFORT, COLOURS)


def panel(panel: PanelAlone, picture: bytes, across: int | None = None) -> bytes:
    """The picture with its overlays, as a loop has them, and below it what is lettered on the ground.

    across: px that it is wide; as many as the picture is worth where none are given.
    """
    layout = panel.layout
    zoom = (across or px_across(panel.panel.crop, panel.width)) / panel.width
    size = (round(panel.width * zoom), round(layout.height * zoom))
    filmed = Image.open(BytesIO(picture)).convert("RGB").resize(size, Image.Resampling.BICUBIC)
    shown = laid_on(filmed, panel.overlays, layout)
    whole = Image.new("RGB", (shown.width, shown.height + math.ceil(panel.below.height * zoom)), GROUND)
    whole.paste(shown)
    ink_of(panel.below.pieces, zoom).laid_on(whole, top=shown.height)
    return _written(whole, panel.label, panel.credit, filmed=True)


def chart(chart: ChartAlone, across: int | None = None) -> bytes:
    """With title, description, numbers and credit inside the file."""
    # The renderer reads no compressed faces and no weights between the hundreds, so none are put in.
    drawn = chart.svg("", faced=False)
    zoom = FINEST if across is None else across / chart.width
    whole = Image.open(BytesIO(Readied(drawn).whole(zoom))).convert("RGB")
    return _written(whole, chart.said, chart.credit, filmed=False)


def _written(whole: Image.Image, label: Label, credit: str, *, filmed: bool) -> bytes:
    """With title, description and credit inside the file. filmed: whether there is a picture on it."""
    made = quantized(whole) if filmed else whole.quantize(MOST, method=Image.Quantize.FASTOCTREE)
    return keep(made, {"Title": label.title, "Description": label.description, "Copyright": credit})


def quantized(whole: Image.Image) -> Image.Image:
    """The picture in so few colours that a px is a byte: a quarter of the bytes.

    Its own where it has no more than that. Else every fourth px says which they are, and each px takes
    the nearest: a third of the time that choosing from all px takes (DEVELOPERS.md, "Why these encoders").
    """
    own = whole.getcolors(MOST)
    if own is not None:
        palette = Image.new("P", (1, 1))
        palette.putpalette([part for _, colour in sorted(own) for part in cast(tuple[int, ...], colour)])
    else:
        some = whole.resize((whole.width // 2, whole.height // 2), Image.Resampling.NEAREST)
        palette = some.quantize(COLOURS, method=Image.Quantize.FASTOCTREE)
    return whole.quantize(palette=palette, dither=Image.Dither.NONE)


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
