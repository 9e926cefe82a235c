"""A contact sheet: pictures of a clip side by side, each with its frame number."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from lessonpress.footage.stills.obscuring import Disc, obscured
from lessonpress.footage.video.index import ClipIndex
from lessonpress.footage.video.pictures import take_pictures

COUNT = 24  # pictures of a sheet
CELL = 320  # longer side of one small picture, px
GAP = 8
PAPER, INK = 255, 20
LETTER = 0.6  # size of the number, in OpenCV's unit


def frames_spaced(frames: Sequence[int], count: int = COUNT) -> list[int]:
    """`count` of the frames, rising, evenly spaced from the first to the last, or all if there are fewer."""
    count = max(1, min(count, len(frames)))
    return [frames[round(position)] for position in np.linspace(0, len(frames) - 1, count)]


def frames_around(frames: Sequence[int], frame: int, count: int = COUNT) -> list[int]:
    """`count` of the frames, rising, one after the other, `frame` in their middle as far as they go."""
    first = max(0, min(bisect_left(frames, frame) - count // 2, len(frames) - count))
    return list(frames[first : first + count])


def contact_sheet(
    path: Path,
    index: ClipIndex,
    frames: Sequence[int],
    *,
    deinterlace: bool = False,
    hidden: Mapping[int, Sequence[Disc]] | None = None,
) -> NDArray[np.uint8]:
    """RGB (h, w, 3) sheet of the pictures of those frames, in rising order.

    hidden: of each frame the discs in which nothing may be recognised, centre and radius, px.
    """
    hidden = hidden or {}
    count = len(frames)
    scale = CELL / max(index.size)
    width, height = (max(1, round(side * scale)) for side in index.size)
    columns = math.ceil(math.sqrt(count * height / width))
    rows = math.ceil(count / columns)
    label = 24
    sheet = np.full(
        (GAP + rows * (height + label + GAP), GAP + columns * (width + GAP), 3), PAPER, dtype=np.uint8
    )
    for position, (frame, picture) in enumerate(take_pictures(path, index, frames, deinterlace=deinterlace)):
        row, column = divmod(position, columns)
        left, top = GAP + column * (width + GAP), GAP + row * (height + label + GAP)
        sheet[top : top + height, left : left + width] = cv2.resize(
            np.asarray(obscured(Image.fromarray(picture), hidden.get(frame, ()))),
            (width, height),
            interpolation=cv2.INTER_AREA,
        )
        words = f"{frame}  {index.times[frame]:.3f} s"
        foot = (left, top + height + label - 7)
        cv2.putText(sheet, words, foot, cv2.FONT_HERSHEY_SIMPLEX, LETTER, (INK,) * 3, 1, cv2.LINE_AA)
    return sheet
