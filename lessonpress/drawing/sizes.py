"""The sizes that drawings travel in. The letters of a drawing keep their size in CSS px at each of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lessonpress.drawing.alone import WIDTH


@dataclass(frozen=True)
class Size:
    """name: what the files are called by, "" for those called after their plate alone.

    width: CSS px that the drawing is laid out for. across: px of its files that have pixels, None where the
    format is to choose. formats: suffixes of those it is made in; none for all there are.
    """

    name: str
    width: int
    across: int | None = None
    formats: tuple[str, ...] = ()


ALONE = Size("", WIDTH)
# As on a phone's page, in a file for the 600 px of a letter on a dense screen: a letter has one for both.
LETTER = Size("letter", 360, 1200, ("png",))
# All pictures of a plate, as wide as a slide or a column of print shows them.
SHEET = Size("sheet", 1200, 1200, ("png",))
# For social networks, which show a square some 600 px wide: 11 px there of the smallest words.
SQUARE = Size("square", 675, 1080, ("png",))

# by name
SIZES: Mapping[str, Size] = {size.name: size for size in (ALONE, LETTER, SHEET, SQUARE)}
