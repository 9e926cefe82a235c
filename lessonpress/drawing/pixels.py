"""Drawings of ours in pixels: the renderer, and how little of a drawing it need be given."""

from __future__ import annotations

import math
from dataclasses import dataclass
from io import BytesIO

import numpy as np
import resvg_py
from PIL import Image

from lessonpress.drawing.layout import Box
from lessonpress.drawing.paper import Element, document, sheet
from lessonpress.drawing.tags.faces import face_files
from lessonpress.drawing.windows import windows

FINEST = 2.0  # px to a CSS px, as the finer screens of phones and desks show
COARSEST = 1.5  # lettering blurs below (tried by eye)
_GLANCE = 0.25  # px to a CSS px: an eighth of what is usual shows where ink lies for a hundredth of the time


def px_across(crop: Box, width: float) -> int:
    """How many px wide a crop is drawn that is shown `width` CSS px wide: no more than it was filmed with,
    within what lettering needs and screens show. Enlarging adds bytes and no more to see.
    """
    return round(min(max(crop[2] - crop[0], COARSEST * width), FINEST * width))


@dataclass(frozen=True)
class Ink:
    """The parts of a drawing that have anything on them; none of a drawing with nothing on it.

    parts: RGBA, clear where nothing is drawn, each with its upper left corner, px of the whole drawing.
    """

    parts: tuple[tuple[Image.Image, tuple[int, int]], ...]

    def laid_on(self, ground: Image.Image, *, top: int = 0) -> None:
        """Draws it onto an RGB picture as wide as the drawing, whose upper edge lies `top` px down."""
        for picture, (left, down) in self.parts:
            ground.paste(picture, (left, top + down), mask=picture)


def ink(elements: list[Element], width: float, height: float, zoom: float) -> Ink:
    """Elements of a drawing of width × height CSS px at `zoom` px to each; what lies outside is cut off.

    Most of a drawing over a picture is clear, and the renderer's time goes with the area that it is asked
    for. So it is asked for a glance at the whole, and then for the few rectangles that have ink in them.
    """
    drawing = sheet(width, height, sized=True)
    for element in elements:
        drawing.add(element)
    glance = _opened(render_png(document(drawing), _GLANCE)).getchannel("A")
    px = zoom / _GLANCE
    most = math.ceil(width * zoom), math.ceil(height * zoom)
    parts = []
    for window in windows(np.asarray(glance) > 0, px * px):
        left, right = (min(round(side * px), most[0]) for side in (window.left, window.right))
        top, bottom = (min(round(side * px), most[1]) for side in (window.top, window.bottom))
        size = (right - left, bottom - top)
        # Sized in px and not by the renderer's zoom, which rounds the size before it enlarges it.
        drawing["viewBox"] = " ".join(f"{side / zoom:.9g}" for side in (left, top, *size))
        drawing["width"], drawing["height"] = map(str, size)
        parts.append((_opened(render_png(document(drawing), 1.0)), (left, top)))
    return Ink(tuple(parts))


def _opened(png: bytes) -> Image.Image:
    return Image.open(BytesIO(png)).convert("RGBA")


def render_png(svg: str, zoom: float) -> bytes:
    """An SVG of ours as PNG. Raises ValueError where it is no SVG."""
    rendered = resvg_py.svg_to_bytes(
        svg_string=svg,
        zoom=zoom,
        skip_system_fonts=True,
        font_files=[str(path) for path in face_files()],
        font_family="National Park",
    )
    return bytes(rendered)
