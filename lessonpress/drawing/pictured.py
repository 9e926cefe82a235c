"""A drawing in pixels on its way into a PNG, and what the file says of itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO

from PIL import Image
from PIL.PngImagePlugin import PngInfo

EFFORT = 4  # of the compression, 0 to 9: 4 % more bytes than 5 in half of its time (measured)
COLOURS = 128  # of a picture: as like it as 256 chosen from all px, and 3 % more bytes (measured)
_MOST = 256  # colours that a byte to each px can tell apart


@dataclass(frozen=True)
class Pictured:
    """picture: RGB. filmed: whether it shows more than flat colours. said: words by keyword.

    The words travel inside the file, under keywords of the PNG specification (W3C PNG, third edition,
    11.3.3.1), where picture libraries and mail programs look for them. Those without words are left out.
    """

    picture: Image.Image
    said: Mapping[str, str]
    filmed: bool

    def png(self) -> bytes:
        facts = PngInfo()
        for keyword, words in self.said.items():
            if words:
                facts.add_itxt(keyword, words)
        written = BytesIO()
        few = _fewer_colours(self.picture) if self.filmed else _octree(self.picture, _MOST)
        few.save(written, "PNG", pnginfo=facts, compress_level=EFFORT)
        return written.getvalue()


def _fewer_colours(picture: Image.Image) -> Image.Image:
    """The picture in so few colours that a px is a byte: a quarter of the bytes.

    Every fourth px says which they are, and each px takes the nearest: a third of the time that choosing from
    all px takes (DEVELOPERS.md, "Why these encoders").
    """
    half = (max(1, picture.width // 2), max(1, picture.height // 2))
    palette = _octree(picture.resize(half, Image.Resampling.NEAREST), COLOURS)
    return picture.quantize(palette=palette, dither=Image.Dither.NONE)


def _octree(picture: Image.Image, colours: int) -> Image.Image:
    return picture.quantize(colours, method=Image.Quantize.FASTOCTREE)
