"""Points carried from one picture to another by pyramidal Lucas–Kanade, checked by carrying them back.

Source: B. D. Lucas and T. Kanade 1981, "An iterative image registration technique"; the pyramid after
J.-Y. Bouguet 2001; both as in OpenCV.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.halfpixel import from_opencv, to_opencv

Grey = NDArray[np.uint8]
Points = NDArray[np.float64]
Rows = NDArray[np.float32]  # (n, 1, 2) in OpenCV's count
STOP = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 40, 0.003)  # steps, or px


def carried(
    early: Grey, late: Grey, points: Points, guess: Points, *, window: int = 21, levels: int = 3
) -> tuple[Points, NDArray[np.float64]]:
    """(points in `late`, px by which each misses its start when carried back) of (n, 2) points of `early`.

    guess: where to begin looking, (n, 2). window: side of the square compared, px. levels: halvings of the
    picture. The miss is infinite where a point is lost.
    """
    if not len(points):
        return np.empty((0, 2)), np.empty(0)
    start = _rows(points)
    there, tracked = _follow(early, late, start, _rows(guess), window, levels)
    back, returned = _follow(late, early, there, start, window, levels)
    miss = np.linalg.norm((back - start).reshape(-1, 2), axis=1).astype(np.float64)
    miss[~tracked | ~returned] = np.inf
    return from_opencv(there.reshape(-1, 2)), miss


def _rows(points: Points) -> Rows:
    return to_opencv(np.asarray(points, dtype=np.float64)).astype(np.float32).reshape(-1, 1, 2)


def _follow(
    early: Grey, late: Grey, points: Rows, guess: Rows, window: int, levels: int
) -> tuple[Rows, NDArray[np.bool_]]:
    there, tracked, _ = cv2.calcOpticalFlowPyrLK(
        early,
        late,
        points,
        guess.copy(),
        winSize=(window, window),
        maxLevel=levels,
        criteria=STOP,
        flags=cv2.OPTFLOW_USE_INITIAL_FLOW,
    )
    return np.asarray(there, dtype=np.float32), np.asarray(tracked).ravel() > 0
