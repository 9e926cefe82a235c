"""The last picture with the ball at its place, of a camera that stands still.

What lies still at the feet until the club comes and is gone for good afterwards is the ball: a few pixels
that look one way about the top and another after impact, with one step between. A foot that lifts is larger,
and goes slowly.
"""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Greys = NDArray[np.uint8]

STEP = 25.0  # grey levels that a place must change by
STEADY = 12.0  # grey levels within which it lies still before and after
SMALL, LARGE = 0.03, 0.2  # of the trunk's length: how wide the place may be
LONG = 2.5  # times as long as wide at the most
RING = (7, 15)  # px: what surrounds a place, beyond its blurred edge
AT_ONCE = 2  # pictures from one look to the other; between them the ball may be a streak
CLEAN = 0.9  # of the pictures on either side that must look as they should


def last_with_ball(greys: Greys, low: int, trunk: float) -> int | None:
    """Which of the pictures is the last with the ball at its place; None where nothing behaves as one, or
    more than one thing does.

    greys: (n, h, w), the surroundings of the feet from the top to some time after impact. low: which of them
    has the lowest hands. trunk: from hips to shoulders, px.
    """
    early, late = (
        greys[: max(1, low * 2 // 3)],
        greys[min(low + 1 + (len(greys) - low) // 4, len(greys) - 1) :],
    )
    before, after = (np.median(part, axis=0).astype(np.float32) for part in (early, late))
    changed = (np.abs(before - after) > STEP) & _steady(early, before) & _steady(late, after)
    same = np.abs(before - after) < STEADY
    places = [place for place in _places(changed, trunk) if _alone(place, same)]
    steps = {step for place in places if (step := _step(greys, place, before, after)) is not None}
    return steps.pop() if len(steps) == 1 else None


def _alone(place: NDArray[np.bool_], same: NDArray[np.bool_]) -> bool:
    """Whether what surrounds a place looks the same before and after, which it does not about a leg."""
    near, far = (cv2.dilate(place.astype(np.uint8), np.ones((size, size))) > 0 for size in RING)
    return bool(same[far & ~near].mean() >= CLEAN)


def _steady(pictures: Greys, middle: NDArray[np.float32]) -> NDArray[np.bool_]:
    away = np.abs(pictures.astype(np.float32) - middle) < STEADY
    return np.asarray(away.mean(axis=0) >= CLEAN)


def _places(changed: NDArray[np.bool_], trunk: float) -> Iterator[NDArray[np.bool_]]:
    """What hangs together and is of a ball's size and shape."""
    count, labels, told, _ = cv2.connectedComponentsWithStats(changed.astype(np.uint8), connectivity=8)
    for number in range(1, count):
        width, height = int(told[number, cv2.CC_STAT_WIDTH]), int(told[number, cv2.CC_STAT_HEIGHT])
        shorter, longer = sorted((width, height))
        full = told[number, cv2.CC_STAT_AREA] > width * height / 2
        if shorter >= SMALL * trunk and longer <= min(LARGE * trunk, LONG * shorter) and full:
            yield np.asarray(labels == number)


def _step(
    greys: Greys, place: NDArray[np.bool_], before: NDArray[np.float32], after: NDArray[np.float32]
) -> int | None:
    """The last picture that looks as before there, where there is one step and no way from the one to the
    other.
    """
    own = greys[:, place].astype(np.float32)
    was, gone = (np.abs(own - how[place]).mean(axis=1) < STEADY for how in (before, after))
    if not was.any() or not gone.any():
        return None
    last = int(np.flatnonzero(was)[-1])
    first = int(np.flatnonzero(gone)[0])
    stays = was[: last + 1].mean() >= CLEAN and gone[first:].mean() >= CLEAN
    return last if stays and 0 < first - last <= AT_ONCE else None
