"""Join a rendered figure and the empty room behind it into one picture."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter, maximum_filter

Box = tuple[int, int, int, int]  # left, top, right, bottom in px


def lay_over(plate: Image.Image, part: Path, box: Box, soft: int = 10) -> None:
    """Lay the picture of a box over the plate where figure and shadows changed it; `part` is its file, and
    then holds the whole picture.

    The plate is rendered with more samples, so it is kept where the two differ by no more than the box's own
    noise. The box fades over `soft` px but for the picture's own edges.
    """
    (width, height), (left, top, right, bottom) = plate.size, box
    x, y = np.arange(left, right) + 0.5, np.arange(top, bottom) + 0.5
    nowhere = float(width + height)
    across = np.minimum(x - left if left > 0 else nowhere, right - x if right < width else nowhere)
    down = np.minimum(y - top if top > 0 else nowhere, bottom - y if bottom < height else nowhere)
    size = (bottom - top, right - left)
    near = np.minimum(np.broadcast_to(across, size[1])[None, :], np.broadcast_to(down, size[0])[:, None])
    under = np.asarray(plate.crop(box), np.float64)
    with Image.open(part) as image:
        over = np.asarray(image.convert("RGB"), np.float64)
    share = (np.clip(near / soft, 0, 1) * changed(over, under))[..., None]
    joined = plate.copy()
    joined.paste(Image.fromarray(np.round(over * share + under * (1 - share)).astype(np.uint8)), (left, top))
    joined.save(part, compress_level=1)


def changed(over: NDArray[np.float64], under: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far, 0 to 1, each pixel of two pictures (height, width, 3) differs by more than noise.

    The difference is averaged over some 5 px, a faint one over 13: a shaft is thin and distinct, a shadow
    is faint and broad.
    """
    differ = over - under
    strong = np.abs(gaussian_filter(differ, (1.5, 1.5, 0))).max(-1)
    faint = np.abs(gaussian_filter(differ, (4, 4, 0))).max(-1)
    share = np.maximum(np.clip((strong - 9) / 6, 0, 1), np.clip((faint - 3) / 3, 0, 1))
    return np.asarray(gaussian_filter(maximum_filter(share, 5), 1.2))
