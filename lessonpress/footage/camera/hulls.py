"""Where the subject is in a picture: the part that camera motion must not be read from."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.halfpixel import to_opencv

Points = Sequence[tuple[float, float]]
MARGIN = 0.25  # of the hull's longer side: what a body and its implement reach beyond its marks
LEAST_MARGIN = 24.0  # px


def background(frame: int, masks: Mapping[int, Points], shape: tuple[int, int]) -> NDArray[np.uint8]:
    """255 where the picture (height, width) shows the room, 0 where it may show the subject, as uint8 (h, w).

    masks: points (x, y) of the subject's marks in px, by frame; frames without any take the hull of the
    nearest ones before and after together, so that it grows by as much as the subject moves between them.
    """
    free = np.full(shape, 255, dtype=np.uint8)
    near = [point for marked in _neighbours(frame, sorted(masks)) for point in masks[marked]]
    if not near:
        return free
    points = to_opencv(np.asarray(near, dtype=np.float64))
    margin = max(LEAST_MARGIN, MARGIN * float(np.ptp(points, axis=0).max()))
    hull = cv2.convexHull(np.rint(points).astype(np.int32))
    cv2.fillConvexPoly(free, hull, 0)
    cv2.polylines(free, [hull], True, 0, thickness=2 * round(margin))
    return free


def _neighbours(frame: int, marked: list[int]) -> list[int]:
    position = bisect_left(marked, frame)
    if position < len(marked) and marked[position] == frame:
        return [frame]
    return marked[max(0, position - 1) : position + 1]
