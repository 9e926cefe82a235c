"""How wide lettering comes out, from the packaged plate face, without a browser."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from PIL import ImageFont

from lessonpress.records import theme_folder

WEIGHTS = (500, 650, 700)
_EM = 1000  # measured at a size where hinting and rounding do not show


def face_file(weight: int) -> Path:
    return theme_folder() / "fonts" / f"national-park-{weight}.ttf"


def face_files() -> tuple[Path, ...]:
    return tuple(face_file(weight) for weight in WEIGHTS)


def woff2_file() -> Path:
    return theme_folder() / "fonts" / "national-park.woff2"


@cache
def _face(weight: int) -> ImageFont.FreeTypeFont:
    # The basic layout is the same on every machine; it leaves kerning out, so a width is never too small.
    return ImageFont.truetype(str(face_file(weight)), _EM, layout_engine=ImageFont.Layout.BASIC)


@cache
def text_width(words: str, size: float, weight: int) -> float:
    """Width in CSS px of one line of the plate face at `size` px and one of the packaged weights."""
    return _face(weight).getlength(words) * size / _EM


def wrapped(words: str, size: float, weight: int, room: float, joint: str = " ") -> tuple[str, ...]:
    """The words in lines no wider than `room`, a longer word keeping a line to itself.

    joint: what they are parted by: a space, or the slash of an address, which stays at the end of a line.
    """
    lines: list[str] = []
    kept = joint.strip()
    for word in re.findall(rf"[^{joint}]+{joint}*" if kept else r"\S+", words):
        longer = f"{lines[-1]}{'' if kept else joint}{word}" if lines else word
        if lines and text_width(longer, size, weight) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)
