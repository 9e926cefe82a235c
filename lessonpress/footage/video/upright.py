"""How a stored picture becomes the one a viewer shows: stretched square, turned, mirrored."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.video.failure import FootageError

QUARTERS = (0, 90, 180, 270)


@dataclass(frozen=True)
class Upright:
    """What a viewer does to a stored picture, in this order.

    pixel_aspect: width to height of a stored pixel. Wide pixels (over 1) stretch the picture's width, tall
    ones (under 1) its height; the other axis is left alone, so that nothing stored is thrown away. rotation:
    degrees clockwise, 0, 90, 180 or 270. mirrored: then left and right are exchanged.
    """

    rotation: int = 0
    mirrored: bool = False
    pixel_aspect: Fraction = Fraction(1)

    def size(self, stored: tuple[int, int]) -> tuple[int, int]:
        """(width, height) of the picture from those stored."""
        width, height = self._square(stored)
        return (height, width) if self.rotation in (90, 270) else (width, height)

    def picture(self, stored: NDArray[np.uint8]) -> NDArray[np.uint8]:
        """The picture, contiguous, from the stored array, (h, w) or (h, w, 3)."""
        height, width = stored.shape[:2]
        square = self._square((width, height))
        if square != (width, height):
            stored = np.asarray(cv2.resize(stored, square, interpolation=cv2.INTER_CUBIC), dtype=np.uint8)
        turned = np.rot90(stored, k=-self.rotation // 90)
        return np.ascontiguousarray(turned[:, ::-1] if self.mirrored else turned)

    def _square(self, stored: tuple[int, int]) -> tuple[int, int]:
        width, height = stored
        if self.pixel_aspect > 1:
            return max(1, round(width * self.pixel_aspect)), height
        return width, max(1, round(height / self.pixel_aspect))


def from_display_matrix(matrix: Sequence[int]) -> tuple[int, bool]:
    """(rotation, mirrored) of `Upright` from the nine numbers a file carries.

    A stored point (p, q), q down, is shown at x = a p + c q, y = b p + d q, with a, b in the matrix's first
    row and c, d in its second (ISO/IEC 14496-12, the track header's matrix). What it does is one turn,
    and one flip where its determinant is negative. Raises FootageError where the turn is not a quarter turn.
    """
    a, b, c, d = matrix[0], matrix[1], matrix[3], matrix[4]
    determinant = a * d - b * c
    if determinant == 0:
        return 0, False  # nothing could be shown through such a matrix: viewers take it as absent
    mirrored = determinant < 0
    angle = math.degrees(math.atan2(b, -a if mirrored else a)) % 360
    quarter = round(angle / 90) * 90
    if abs(angle - quarter) > 1:
        raise FootageError(
            f"the file asks viewers to turn its picture by {angle:.0f}°, which is not a quarter turn",
            "export it with the turn applied",
        )
    return quarter % 360, mirrored
