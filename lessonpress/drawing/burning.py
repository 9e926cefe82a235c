"""Overlays laid into a picture for good, as the pictures of a loop need them."""

from __future__ import annotations

from io import BytesIO

from PIL import Image, ImageOps

from lessonpress.drawing.alone import render_png
from lessonpress.drawing.paper import document, sheet
from lessonpress.drawing.plate import layout_for, overlays
from lessonpress.drawing.standalone import PREFIX
from lessonpress.figures import Panel


def burned(panel: Panel, picture: Image.Image, width: int, density: int = 1) -> Image.Image:
    """The panel's crop with its overlays drawn into it, laid out for `width` CSS px at `density` px to each.

    picture: the crop, as filmed, of any size; mirroring turns it here. Height follows from the crop.
    """
    layout = layout_for(panel, float(width), mirrored=panel.mirrored)
    size = (width * density, round(layout.height * density))
    shown = picture.convert("RGB").resize(size, Image.Resampling.LANCZOS)
    if panel.mirrored:
        shown = ImageOps.mirror(shown)
    drawing = sheet(layout.width, layout.height, sized=True)
    for element in overlays(panel, layout, PREFIX):
        drawing.add(element)
    over = Image.open(BytesIO(render_png(document(drawing), float(density)))).convert("RGBA")
    shown.paste(over, mask=over)
    return shown
