"""The clubhead as a spot of its own: where what ends a shaft is broader than the shaft.

A head's middle lies beside the line of its shaft and turns about it, so the end of the stripe says where it
is to some 10 px only. What stands out from the room about that end, row by row along the shaft, shows where
the head begins and how broad it is; its middle moves with the head, blurred or not, since an exposure smears
it to both sides alike.
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Mask, Picture
from lessonpress.footage.tracking.halfpixel import to_opencv

Floats = NDArray[np.float64]

BACK, PAST, ASIDE = 44, 40, 44  # px about the end of a shaft that are looked at: along it and to either side
SOFT = 3  # px, of the square over which levels are averaged
STANDS_OUT, LEAST_OUT = 3.5, 9.0  # times the noise of such a mean, and grey levels, by which a head differs
SHADE, CLEAREST = 0.3, 0.9  # of what stands out most about the end, as a quantile: shadows less than that
CLOSED = 5  # px, of holes where a head is as bright as the room
RIM, FAN = 2.0, 1.6  # px, and times the stripe's half width: as broad may the shaft itself be
BROAD = 2  # px of a row beyond that: the head
NEAR = 14  # px from the shaft's end at which the head begins at the farthest
OF_IT = 12.0  # px from a click to the middle of the spot that is the head's
SMALLEST, LARGEST = 16, 1800  # px²


@dataclass(frozen=True)
class Spot:
    """middle: (2,), px of what is looked through. area: px²."""

    middle: Floats
    area: float


def spot_at(end: Floats, way: Floats, half: float, moved: Picture, golfer: Mask, noise: float) -> Spot | None:
    """The head at the end of a shaft; None where nothing there is broader than it, or what is goes on.

    end: px of what is looked through; way: along the shaft to there, a unit vector; half: half its width, px.
    moved: the picture less the room, grey levels, softened (`softened`); noise: of that before. golfer: 1
    where he is.
    """
    along, aside = np.arange(-BACK, PAST + 1), np.arange(-ASIDE, ASIDE + 1)
    normal = np.array([-way[1], way[0]])
    places = to_opencv(end + along[:, None, None] * way + aside[None, :, None] * normal).astype(np.float32)
    x, y = np.ascontiguousarray(places[..., 0]), np.ascontiguousarray(places[..., 1])
    levels = cv2.remap(moved, x, y, cv2.INTER_LINEAR, borderValue=0)
    about = np.abs(levels[np.abs(along) <= NEAR][:, np.abs(aside) <= NEAR])
    least = max(STANDS_OUT * noise / SOFT, LEAST_OUT, SHADE * float(np.quantile(about, CLEAREST)))
    out = (np.abs(levels) > least).astype(np.uint8)
    out = np.asarray(cv2.morphologyEx(out, cv2.MORPH_CLOSE, np.ones((CLOSED, CLOSED), np.uint8)))
    head = _head(out, along, np.abs(aside) > max(half + RIM, FAN * half))
    if head is None:
        return None
    rows, columns = np.nonzero(head)
    him = np.asarray(cv2.remap(golfer, x, y, cv2.INTER_NEAREST, borderValue=0))
    rim = min(rows.min(), columns.min(), len(along) - 1 - rows.max(), len(aside) - 1 - columns.max())
    if rim < 1 or not SMALLEST <= len(rows) <= LARGEST or him[head > 0].any():
        return None
    middle = end + along[rows].mean() * way + aside[columns].mean() * normal
    return Spot(middle, float(len(rows)))


def softened(moved: Picture) -> Picture:
    return np.asarray(cv2.blur(moved, (SOFT, SOFT)), dtype=np.float32)


def _head(out: Mask, along: NDArray[np.int_], beside: NDArray[np.bool_]) -> Mask | None:
    """Of what hangs together with the end of the shaft, the rows that are broader than it, in one."""
    _, pieces = cv2.connectedComponents(out)
    end = pieces[np.abs(along) <= NEAR][:, ~beside]
    counts = np.bincount(end[end > 0].ravel())
    if not len(counts):
        return None
    piece = pieces == int(counts.argmax())
    broad = np.flatnonzero((piece & beside).sum(axis=1) >= BROAD)
    if not len(broad):
        return None
    parts = np.split(broad, np.flatnonzero(np.diff(broad) > CLOSED) + 1)
    near = min(parts, key=lambda part: (max(0, -NEAR - along[part[-1]], along[part[0]] - NEAR), -len(part)))
    if along[near[0]] > NEAR or along[near[-1]] < -NEAR:
        return None
    rows = np.zeros(len(along), dtype=bool)
    rows[near[0] : near[-1] + 1] = True
    return np.asarray(piece & rows[:, None], dtype=np.uint8)
