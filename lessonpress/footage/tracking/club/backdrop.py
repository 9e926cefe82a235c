"""The room without the golfer: what most pictures show at each place, and how much that flickers.

The median over pictures leaves out what passes by (as in B. P. L. Lo and S. A. Velastin 2001); where a body
stands all the time it is a part of the room, which does no harm: what is looked for moves.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.steadied import Steadied

Picture = NDArray[np.float32]
Mask = NDArray[np.uint8]

SIDE = 720  # px of the shorter side at which a picture is looked through; larger ones are made smaller
MOST = 61  # pictures of which the median is taken
ROWS = 64  # of a picture at a time, so that the median needs little memory
LEAST_NOISE = 0.7  # grey levels, of rounding and of what compression does
STANDS_OUT = 6.0  # times the noise, by which a body differs from the room
LEAST_OUT = 12.0  # grey levels
CLOSED, OPENED, GROWN = 7, 15, 9  # px: holes that a body may have, how wide it is at the least, its rim
HEAD_AREA = 1800  # px² of a body, no more than which may be a clubhead
EVERY, A_WHILE, BETWEEN = 2, 0.1, 61  # of those pictures; share of them; px that lie between


@dataclass(frozen=True)
class Backdrop:
    """room: grey levels, at the size that is looked through. scale: its px to one of the film's. noise: grey
    levels, standard deviation of one pixel. golfer: 1 where he is seen for a while, and between such places.
    """

    room: Picture
    scale: float
    noise: float
    golfer: Mask

    def looked_at(self, grey: NDArray[np.uint8]) -> Picture:
        """A picture of the film at that size."""
        return _sized(grey, self.scale)

    def body(self, picture: Picture) -> Mask:
        """1 where something broad hides the room, and a little around it."""
        away = np.abs(picture - self.room) > max(STANDS_OUT * self.noise, LEAST_OUT)
        whole = cv2.morphologyEx(away.astype(np.uint8), cv2.MORPH_CLOSE, np.ones((CLOSED, CLOSED), np.uint8))
        broad = cv2.morphologyEx(whole, cv2.MORPH_OPEN, _round(OPENED))
        return np.asarray(cv2.dilate(broad, _round(GROWN)), dtype=np.uint8)


def backdrop_of(store: Steadied) -> Backdrop:
    """Of the film's pictures, in which the room stands still."""
    frames = store.frames
    scale = min(1.0, SIDE / min(store.shape))
    chosen = [frames[i] for i in np.unique(np.linspace(0, len(frames) - 1, MOST).astype(int))]
    stack = [np.round(_sized(store[frame], scale)).astype(np.uint8) for frame in chosen]
    height = stack[0].shape[0]
    bands = [
        np.median([picture[top : top + ROWS] for picture in stack], axis=0) for top in range(0, height, ROWS)
    ]
    room = np.concatenate(bands).astype(np.float32)
    bare = Backdrop(room, scale, _noise(store, scale), np.zeros(room.shape, np.uint8))
    return replace(bare, golfer=_golfer(bare, stack[::EVERY]))


def large(body: Mask) -> Mask:
    """Of what hides the room, the pieces that are larger than a clubhead."""
    _, pieces, measures, _ = cv2.connectedComponentsWithStats(body)
    kept = measures[:, cv2.CC_STAT_AREA] > HEAD_AREA
    kept[0] = False
    return np.asarray(kept[pieces], dtype=np.uint8)


def _golfer(backdrop: Backdrop, pictures: Sequence[Mask]) -> Mask:
    """Where the golfer is seen to move for a while, closed and filled: what stands still is between."""
    often = np.mean([large(backdrop.body(picture.astype(np.float32))) for picture in pictures], axis=0)
    closed = cv2.morphologyEx((often >= A_WHILE).astype(np.uint8), cv2.MORPH_CLOSE, _round(BETWEEN))
    outlines, _ = cv2.findContours(closed, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    return np.asarray(cv2.drawContours(np.zeros_like(closed), outlines, -1, 1, cv2.FILLED), dtype=np.uint8)


def _noise(store: Steadied, scale: float) -> float:
    """Of one pixel from picture to picture, where nothing moves: most of the picture."""
    frames = store.frames
    pairs = [(frames[i], frames[i + 1]) for i in np.linspace(0, len(frames) - 2, 5).astype(int)]
    apart = [
        float(np.median(np.abs(_sized(store[one], scale) - _sized(store[other], scale))))
        for one, other in pairs
    ]
    return max(LEAST_NOISE, 1.4826 / math.sqrt(2) * float(np.median(apart)))


def _sized(grey: NDArray[np.uint8], scale: float) -> Picture:
    if scale == 1.0:
        return grey.astype(np.float32)
    size = (round(grey.shape[1] * scale), round(grey.shape[0] * scale))
    return np.asarray(cv2.resize(grey, size, interpolation=cv2.INTER_AREA), dtype=np.float32)


def _round(side: int) -> NDArray[np.uint8]:
    return np.asarray(cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (side, side)), dtype=np.uint8)
