"""Points between this program and OpenCV: the one place where the half pixel is added.

Here (0, 0) is the outer corner of the first pixel and its centre is (0.5, 0.5), as in SVG and browsers;
OpenCV calls that centre (0, 0). A matrix that carries points has to be moved in the same way on both sides.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

TO_CENTRES: NDArray[np.float64] = np.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1]], dtype=np.float64)
TO_CORNERS: NDArray[np.float64] = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]], dtype=np.float64)


def to_opencv(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """(…, 2) points of the picture, in OpenCV's count."""
    return points - 0.5


def from_opencv(points: NDArray[np.floating]) -> NDArray[np.float64]:
    """(…, 2) points in OpenCV's count, of the picture."""
    return np.asarray(points, dtype=np.float64) + 0.5


def matrix_from_opencv(matrix: NDArray[np.floating]) -> NDArray[np.float64]:
    """A 3×3 matrix that carries OpenCV's points, as one that carries the picture's."""
    return TO_CORNERS @ np.asarray(matrix, dtype=np.float64) @ TO_CENTRES


def matrix_to_opencv(matrix: NDArray[np.float64]) -> NDArray[np.float64]:
    """A 3×3 matrix that carries the picture's points, as one that carries OpenCV's."""
    return TO_CENTRES @ matrix @ TO_CORNERS
