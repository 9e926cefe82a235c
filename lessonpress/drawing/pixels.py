"""Drawings of ours in pixels: how little of a drawing the renderer need be given."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO

import numpy as np
from PIL import Image

from lessonpress.drawing.layout import Box
from lessonpress.drawing.paper import Element, Piece, document, sheet
from lessonpress.drawing.rendering import Readied
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
    drawing = _readied(elements, width, height)
    across, down = math.ceil(width * _GLANCE), math.ceil(height * _GLANCE)
    glance = _opened(drawing.part((0, 0), (across, down), _GLANCE))
    seen = windows(np.asarray(glance.getchannel("A")) > 0, (zoom / _GLANCE) ** 2)
    boxes = [
        [min(at / _GLANCE, end) for at, end in zip(one, (height, width) * 2, strict=True)] for one in seen
    ]
    return Ink(tuple(_part(drawing, (left, top, right, bottom), zoom) for top, left, bottom, right in boxes))


def ink_of(pieces: Sequence[Piece], zoom: float) -> Ink:
    """The same of pieces none of which lies in another's box: where their ink is need not be looked for."""
    if not pieces:
        return Ink(())
    right, bottom = (max(piece.box[side] for piece in pieces) for side in (2, 3))
    drawing = _readied((element for piece in pieces for element in piece.elements), right, bottom)
    return Ink(tuple(_part(drawing, piece.box, zoom) for piece in pieces))


def _readied(elements: Iterable[Element], width: float, height: float) -> Readied:
    drawing = sheet(width, height, sized=True)
    for element in elements:
        drawing.add(element)
    return Readied(document(drawing))


def _part(drawing: Readied, box: Box, zoom: float) -> tuple[Image.Image, tuple[int, int]]:
    """What a drawing has in a box, with the box's corner in px."""
    left, top, right, bottom = (round(side * zoom) for side in box)
    return _opened(drawing.part((left, top), (right - left, bottom - top), zoom)), (left, top)


def _opened(png: bytes) -> Image.Image:
    return Image.open(BytesIO(png)).convert("RGBA")
