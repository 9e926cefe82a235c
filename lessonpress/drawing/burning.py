"""Overlays laid into a picture for good, as the pictures of a loop and a PNG need them."""

from __future__ import annotations

from collections.abc import Iterable

from PIL import Image, ImageOps

from lessonpress.drawing.layout import Layout
from lessonpress.drawing.paper import Element
from lessonpress.drawing.pixels import ink
from lessonpress.drawing.plate import layout_for, overlays
from lessonpress.figures import Panel

PREFIX = "lp"  # of ids: the drawing is alone in its file


def burned(panel: Panel, picture: Image.Image, width: int) -> Image.Image:
    """The panel's crop with its overlays drawn into it, laid out for `width` CSS px.

    picture: the crop, as filmed, at the size that is wanted; mirroring turns it here.
    """
    layout = layout_for(panel, float(width), mirrored=panel.mirrored)
    return laid_on(picture, overlays(panel, layout, PREFIX), layout)


def laid_on(picture: Image.Image, elements: Iterable[Element], layout: Layout) -> Image.Image:
    """The same of overlays that are laid out already."""
    shown = ImageOps.mirror(picture) if layout.mirrored else picture.copy()
    ink(list(elements), layout.width, layout.height, picture.width / layout.width).laid_on(shown)
    return shown
