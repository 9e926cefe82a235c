"""Drawings of ours in pixels: the renderer, and how little of a drawing it need be given."""

from __future__ import annotations

import math
from dataclasses import dataclass
from io import BytesIO

import resvg_py
from PIL import Image

from lessonpress.drawing.layout import Box
from lessonpress.drawing.paper import Element, document, sheet
from lessonpress.drawing.tags.faces import face_files

FINEST = 2.0  # px to a CSS px, as the finer screens of phones and desks show
COARSEST = 1.5  # lettering blurs below (tried by eye)
_GLANCE = 0.25  # px to a CSS px: an eighth of what is usual shows where ink lies for a hundredth of the time
_BESIDE = 2  # px of a glance: how far ink may lie from where it was seen


def px_across(crop: Box, width: float) -> int:
    """How many px wide a crop is drawn that is shown `width` CSS px wide: no more than it was filmed with,
    within what lettering needs and screens show. Enlarging adds bytes and no more to see.
    """
    return round(min(max(crop[2] - crop[0], COARSEST * width), FINEST * width))


@dataclass(frozen=True)
class Ink:
    """The part of a drawing that has anything on it. corner: its upper left one, px of the whole drawing.

    picture: RGBA, clear where nothing is drawn; None for a drawing with nothing on it.
    """

    picture: Image.Image | None
    corner: tuple[int, int] = (0, 0)

    def laid_on(self, ground: Image.Image, *, top: int = 0) -> None:
        """Draws it onto an RGB picture as wide as the drawing, whose upper edge lies `top` px down."""
        if self.picture is not None:
            left, down = self.corner
            ground.paste(self.picture, (left, top + down), mask=self.picture)


def ink(elements: list[Element], width: float, height: float, zoom: float) -> Ink:
    """Elements of a drawing of width × height CSS px at `zoom` px to each; what lies outside is cut off.

    Most of a drawing over a picture is clear, and the renderer's time goes with the area that it is asked
    for. So it is asked for a glance at the whole, and then for the rectangle that has ink in it.
    """
    drawing = sheet(width, height, sized=True)
    for element in elements:
        drawing.add(element)
    seen = _opened(render_png(document(drawing), _GLANCE)).getchannel("A").getbbox()
    if seen is None:
        return Ink(None)
    across, down = (math.ceil(side * zoom) for side in (width, height))
    px = zoom / _GLANCE
    left, top = (max(0, math.floor((side - _BESIDE) * px)) for side in seen[:2])
    right, bottom = (
        min(most, math.ceil((side + _BESIDE) * px))
        for side, most in zip(seen[2:], (across, down), strict=True)
    )
    window = [side / zoom for side in (left, top, right - left, bottom - top)]
    drawing["viewBox"] = " ".join(f"{side:.6g}" for side in window)
    drawing["width"], drawing["height"] = (f"{side:.6g}" for side in window[2:])
    return Ink(_opened(render_png(document(drawing), zoom)), (left, top))


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
