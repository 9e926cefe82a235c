"""Several pictures of a plate on one sheet, and a picture on a square."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from PIL import Image

from lessonpress.drawing.alone import WIDTH
from lessonpress.drawing.palette import GROUND
from lessonpress.drawing.pictured import Pictured
from lessonpress.drawing.sizes import Size

# CSS px of a sheet of several pictures, so that the letters of each are as large as beside it
WIDEST_SQUARE = 6000  # px of a side: a long caption makes a picture many times as high as wide
_LAID_OUT = 1200
_GAP = 0.02  # between pictures, of the sheet's width


@dataclass(frozen=True)
class SheetLayout:
    """Where `count` pictures lie on a sheet `width` px wide: up to three abreast, four as two and two.

    laid_out: CSS px of the sheet; as many as its pictures have beside a text unless given.
    """

    count: int
    width: int
    laid_out: int | None = None

    @property
    def columns(self) -> int:
        return self.count if self.count <= 3 else 2 if self.count == 4 else 3

    @property
    def gap(self) -> int:
        return round(self.width * _GAP) if self.count > 1 else 0

    @property
    def cell(self) -> int:
        """Width of a picture, px."""
        return (self.width - self.gap * (self.columns - 1)) // self.columns

    @property
    def size(self) -> Size:
        """That each picture is to be drawn at."""
        whole = self.laid_out or (_LAID_OUT if self.count > 1 else WIDTH)
        return Size("", round(self.cell * whole / self.width), self.cell)


def sheet(pictures: Sequence[Pictured], layout: SheetLayout) -> Pictured:
    """The pictures in their order, with the titles, descriptions and credits of all."""
    rows = [pictures[at : at + layout.columns] for at in range(0, len(pictures), layout.columns)]
    heights = [max(one.picture.height for one in row) for row in rows]
    whole = Image.new("RGB", (layout.width, sum(heights) + layout.gap * (len(rows) - 1)), GROUND)
    top = 0
    for row, height in zip(rows, heights, strict=True):
        for position, one in enumerate(row):
            whole.paste(one.picture, (position * (layout.cell + layout.gap), top))
        top += height + layout.gap
    return Pictured(whole, _said(pictures), any(one.filmed for one in pictures))


def on_square(pictured: Pictured, least: int = 0) -> Pictured:
    """The picture in the middle of a square as wide as its longer side, for where only squares are shown.

    least: px of a side.
    """
    inked = pictured.picture.copy()
    inked.thumbnail((WIDEST_SQUARE, WIDEST_SQUARE))
    side = max(*inked.size, least)
    whole = Image.new("RGB", (side, side), GROUND)
    whole.paste(inked, ((side - inked.width) // 2, (side - inked.height) // 2))
    return replace(pictured, picture=whole)


def _said(pictures: Sequence[Pictured]) -> dict[str, str]:
    """What the pictures say of themselves, each once."""
    said: dict[str, dict[str, None]] = {}
    for one in pictures:
        for keyword, words in one.said.items():
            said.setdefault(keyword, {}).update({words: None} if words else {})
    return {keyword: "\n".join(words) for keyword, words in said.items()}
