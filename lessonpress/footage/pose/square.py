"""A square of a picture as a network sees it, and points brought back from there."""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.halfpixel import matrix_to_opencv
from lessonpress.records import Point

Picture = NDArray[np.uint8]
Matrix = NDArray[np.float64]


@dataclass(frozen=True)
class Square:
    """A square of a picture. centre, side: px of the picture. turn: radians, clockwise as seen.

    mirrored: its pixels run from right to left.
    """

    centre: Point
    side: float
    turn: float = 0.0
    mirrored: bool = False

    def matrix(self, pixels: int) -> Matrix:
        """3 × 3, from px of the square shown `pixels` wide to px of the picture."""
        scale = self.side / pixels
        cosine, sine = scale * math.cos(self.turn), scale * math.sin(self.turn)
        across = -1.0 if self.mirrored else 1.0
        linear = np.array([[cosine * across, -sine], [sine * across, cosine]])
        matrix = np.eye(3)
        matrix[:2, :2] = linear
        matrix[:2, 2] = self.centre - linear @ np.array([pixels / 2, pixels / 2])
        return matrix

    def cut(self, picture: Picture, scale: float, pixels: int) -> Picture:
        """The square, `pixels` wide, black beyond the edge. picture: reduced by `scale`, see `reduced`."""
        there = np.diag([1 / scale, 1 / scale, 1.0]) @ self.matrix(pixels)
        seen = cv2.warpAffine(
            picture,
            matrix_to_opencv(there)[:2],
            (pixels, pixels),
            flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        )
        return np.asarray(seen, dtype=np.uint8)

    def back(self, points: NDArray[np.float64], pixels: int) -> NDArray[np.float64]:
        """(n, 2) px of the square, in px of the picture."""
        matrix = self.matrix(pixels)
        return np.asarray(points @ matrix[:2, :2].T + matrix[:2, 2])


def reduced(picture: Picture, side: float, pixels: int) -> tuple[Picture, float]:
    """The picture made as small as a square of this side is shown, by areas, and how many times smaller.

    A square cut by single px from a larger picture would show a pattern that is not there.
    """
    scale = side / pixels
    if scale <= 1.0:
        return picture, 1.0
    height, width = picture.shape[:2]
    size = (max(1, round(width / scale)), max(1, round(height / scale)))
    small = cv2.resize(picture, size, interpolation=cv2.INTER_AREA)
    return np.asarray(small, dtype=np.uint8), width / size[0]
