"""Discs of a picture made unrecognisable, for good."""

from __future__ import annotations

from collections.abc import Iterable

from PIL import Image, ImageDraw

from lessonpress.records import Point

Disc = tuple[Point, float]  # centre and radius, px
CELLS = 4  # a disc is averaged into so many cells across: too few to know a face by


def obscured(whole: Image.Image, discs: Iterable[Disc]) -> Image.Image:
    """The picture with each disc averaged into a few cells; what was there cannot be got back."""
    result = whole
    for (x, y), radius in discs:
        result = result.copy()
        box = (round(x - radius), round(y - radius), round(x + radius), round(y + radius))
        size = (box[2] - box[0], box[3] - box[1])
        if size[0] < 1:
            continue
        cells = result.resize((CELLS, CELLS), Image.Resampling.BOX, box=_inside(box, result.size))
        mask = Image.new("L", size, 0)
        ImageDraw.Draw(mask).ellipse((0, 0, size[0] - 1, size[1] - 1), fill=255)
        result.paste(cells.resize(size, Image.Resampling.BILINEAR), box[:2], mask)
    return result


def _inside(box: tuple[int, int, int, int], size: tuple[int, int]) -> tuple[int, int, int, int]:
    """The part of the box that lies on the picture, at least one pixel of it."""
    left, top = (min(max(box[i], 0), size[i] - 1) for i in (0, 1))
    return left, top, max(left + 1, min(box[2], size[0])), max(top + 1, min(box[3], size[1]))
