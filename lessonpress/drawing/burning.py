"""Overlays laid into a picture for good, as the pictures of a loop and a PNG need them."""

from __future__ import annotations

from PIL import Image, ImageOps

from lessonpress.drawing.pixels import ink
from lessonpress.drawing.plate import layout_for, overlays
from lessonpress.drawing.standalone import PREFIX
from lessonpress.figures import Panel


def burned(panel: Panel, picture: Image.Image, width: int) -> Image.Image:
    """The panel's crop with its overlays drawn into it, laid out for `width` CSS px.

    picture: the crop, as filmed, at the size that is wanted; mirroring turns it here.
    """
    layout = layout_for(panel, float(width), mirrored=panel.mirrored)
    shown = ImageOps.mirror(picture) if panel.mirrored else picture.copy()
    elements = overlays(panel, layout, PREFIX)
    ink(elements, layout.width, layout.height, picture.width / width).laid_on(shown)
    return shown
