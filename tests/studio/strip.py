"""The frame-number strip: a picture's own number, drawn so that a machine can read it back.

Two rows of square cells at the top left of the picture, the most significant bit first. In the upper row a
white cell is a one and a black cell a nought; the lower row shows the opposite. A bit is read by comparing
a cell with the one beneath it, so that coding, brightness and colour range cannot change what is read, and
a damaged strip is noticed: its two cells look alike.

    picture = stamp(picture, 137)         # draws on a copy
    assert read(picture) == 137

With the defaults the strip covers 96 × 16 px and counts to 4095; `span` says how much it covers.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

BITS = 12
CELL = 8
LEAST_CONTRAST = 60.0  # grey levels between a cell and the one beneath it


def span(bits: int = BITS, cell: int = CELL) -> tuple[int, int]:
    """(width, height) in px that a strip covers."""
    return bits * cell, 2 * cell


def stamp(
    picture: NDArray[np.uint8],
    number: int,
    *,
    bits: int = BITS,
    cell: int = CELL,
    corner: tuple[int, int] = (0, 0),
) -> NDArray[np.uint8]:
    """A copy of an RGB (h, w, 3) or grey (h, w) picture with `number` drawn at corner (x, y)."""
    if not 0 <= number < 1 << bits:
        raise ValueError(f"{number} does not fit into {bits} bits")
    ones = np.array([number >> bit & 1 for bit in reversed(range(bits))], dtype=np.uint8)
    cells = np.stack([ones, 1 - ones]) * np.uint8(255)
    block = np.kron(cells, np.ones((cell, cell), dtype=np.uint8))
    left, top = corner
    stamped = picture.copy()
    target = stamped[top : top + block.shape[0], left : left + block.shape[1]]
    target[...] = block if picture.ndim == 2 else block[:, :, None]
    return stamped


def read(
    picture: NDArray[np.uint8],
    *,
    bits: int = BITS,
    cell: int = CELL,
    corner: tuple[int, int] = (0, 0),
) -> int | None:
    """The number on a picture, or None where the strip cannot be read without doubt."""
    left, top = corner
    grey = picture.astype(np.float64)
    grey = grey.mean(axis=2) if grey.ndim == 3 else grey
    block = grey[top : top + 2 * cell, left : left + bits * cell]
    if block.shape != (2 * cell, bits * cell):
        return None
    inner = slice(cell // 4, cell - cell // 4)
    means = block.reshape(2, cell, bits, cell)[:, inner, :, inner].mean(axis=(1, 3))
    contrast = means[0] - means[1]
    if np.abs(contrast).min() < LEAST_CONTRAST:
        return None
    return int(sum(1 << place for place, value in enumerate(reversed(contrast)) if value > 0))
