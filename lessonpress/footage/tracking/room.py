"""Whether a tracked patch belongs to the background of the room instead of to the mark.

Where the mark was placed by hand far from a point, whatever is seen at that point is not the mark. A run that
comes to rest on something which is seen there then as well, has let go of the mark.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.footage.tracking.patch import cut
from lessonpress.records import Point

AWAY = 2.0  # patch sides from its point that the mark has to be, so that what it is on is out of the patch
SAME = 0.9  # correlation
CLOSE = 0.03  # of correlation, by which the room may be less like the patch than the mark is
SWAY = 4  # px that a camera in the hand may have moved, in any direction


def belongs_to_room(
    store: FrameStore,
    now: NDArray[np.uint8],
    point: Point,
    likeness: float,
    hand: Mapping[int, Point],
    side: int,
) -> bool:
    """True where the patch of `side` px about `point` in `now` is also seen without the mark.

    likeness: correlation by which the patch was taken for the mark: the room has to come close to that. hand:
    the mark's points by hand, by frame of the store; those near the point say nothing.
    """
    seen = cut(now, point, side)
    away = [frame for frame, clicked in hand.items() if math.dist(clicked, point) > AWAY * side]
    if seen is None:
        return False
    least = max(SAME, likeness - CLOSE)
    return any(_likeness(seen.soft, store[frame], point, side) > least for frame in away)


def _likeness(patch: NDArray[np.float32], grey: NDArray[np.uint8], point: Point, side: int) -> float:
    """The best correlation of the patch with what the picture shows at the point, or SWAY px from it."""
    there = cut(grey, point, side + 2 * SWAY)
    if there is None:
        return 0.0
    return float(cv2.matchTemplate(there.soft, patch, cv2.TM_CCOEFF_NORMED).max())
