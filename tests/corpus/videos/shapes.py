"""Films of odd shapes: a pixel or two, one picture, odd pixel aspects, turned, very wide, all alike."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np

from tests.corpus.sound import SIZE
from tests.corpus.videos.film import Damaged, Films
from tests.studio.film import encode

SIZES = ((1, 1), (2, 2), (2, 400), (400, 2), (16, 16), (4096, 16), SIZE, SIZE, SIZE, SIZE)
ASPECTS = (
    None,
    None,
    Fraction(60_000, 1),
    Fraction(1, 60_000),
    Fraction(255, 254),
    Fraction(4, 3),
    Fraction(100, 1),
)


def damaged(films: Films, random: Random) -> Damaged:
    width, height = random.choice(SIZES)
    count = random.choice((1, 2, 60, 60))
    how: dict[str, Any] = {
        "pixel_aspect": random.choice(ASPECTS),
        "rotation": random.choice((0, 0, 90, 180, 270)),
    }
    how["fps"] = random.choice((30, 30, 1, 1000, Fraction(30_000, 1001)))
    even = width % 2 == 0 and height % 2 == 0
    how.update({"codec": "libx264"} if even else {"codec": "png", "pix_fmt": "rgb24"})
    suffix = ".mp4" if even else ".avi"
    pictures = [np.full((height, width, 3), number % 200, np.uint8) for number in range(count)]
    with TemporaryDirectory() as folder:
        data = encode(Path(folder) / f"film{suffix}", pictures, **how).read_bytes()
    return Damaged(suffix, data, f"{width} × {height} px, {count} pictures, {how}")
