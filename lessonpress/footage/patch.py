"""What surrounds a mark in a picture: how well it can be held on to, and where it is found again.

A patch is found again by the enhanced correlation coefficient (Evangelidis and Psarakis 2008, as in OpenCV),
which lets it turn, stretch and shear and does not mind a change of light.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.halfpixel import from_opencv, to_opencv

Grey = NDArray[np.uint8]
Square = NDArray[np.float32]
Linear = NDArray[np.float64]  # (2, 2): how offsets in the patch lie in the picture
Point = tuple[float, float]

STOP = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 60, 1e-4)
SMOOTHED = 5  # px, of the Gauss filter before matching
STRETCH = (0.4, 2.5)  # singular values that a patch may take: beyond, it is another thing


@dataclass(frozen=True)
class Patch:
    """A square of a picture with the point it stands for.

    square: float32 (side, side), whole pixels. offset: the point in it, in OpenCV's count. least, most: the
    eigenvalues of its gradients' second-moment matrix (Shi and Tomasi 1994), squared grey levels per px²
    summed over the square: along the direction that is worst, and best, held.
    """

    square: Square
    offset: Point
    least: float
    most: float


@dataclass(frozen=True)
class Find:
    """A patch found again. likeness: correlation coefficient. rest: (side, side) grey levels that differ."""

    point: Point
    linear: Linear
    likeness: float
    rest: Square

    @property
    def noise(self) -> float:
        """Rms of the rest."""
        return float(np.sqrt(np.mean(self.rest**2)))


def cut(grey: Grey, point: Point, side: int) -> Patch | None:
    """The patch of `side` px (odd) whose middle pixel holds the point; None where it leaves the picture."""
    x, y = to_opencv(np.asarray(point, dtype=np.float64))
    left, top = round(x) - side // 2, round(y) - side // 2
    if left < 0 or top < 0 or left + side > grey.shape[1] or top + side > grey.shape[0]:
        return None
    square = grey[top : top + side, left : left + side].astype(np.float32)
    return Patch(square, (float(x - left), float(y - top)), *_moments(square))


def find(held: Patch, grey: Grey, near: Point, linear: Linear) -> Find | None:
    """Where the patch is in a picture, searched from `near` with the linear part given; None if nowhere."""
    side = held.square.shape[0]
    x, y = to_opencv(np.asarray(near, dtype=np.float64))
    reach = side + side // 2
    left, top = max(0, round(x) - reach), max(0, round(y) - reach)
    window = grey[top : round(y) + reach + 1, left : round(x) + reach + 1]
    if min(window.shape, default=0) < side:
        return None
    offset = np.array(held.offset)
    shift = np.array([x - left, y - top]) - linear @ offset
    try:
        likeness, warp = cv2.findTransformECC(
            held.square,
            window.astype(np.float32),
            np.column_stack([linear, shift]).astype(np.float32),
            cv2.MOTION_AFFINE,
            STOP,
            np.full(window.shape, 255, dtype=np.uint8),
            SMOOTHED,
        )
    except cv2.error:
        return None  # it did not settle
    turned = np.asarray(warp[:, :2], dtype=np.float64)
    stretch = np.linalg.svd(turned, compute_uv=False)
    if not np.isfinite(warp).all() or stretch[1] < STRETCH[0] or stretch[0] > STRETCH[1]:
        return None
    there = from_opencv(turned @ offset + warp[:, 2] + np.array([left, top]))
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    seen = cv2.warpAffine(window.astype(np.float32), np.asarray(warp), (side, side), flags=flags)
    rest = _rest(held.square, np.asarray(seen, dtype=np.float32))
    return Find((float(there[0]), float(there[1])), turned, float(likeness), rest)


def slip(held: Patch, noise: float) -> float:
    """Standard uncertainty, px per axis, of a match: σ √(trace(M⁻¹)/2), the Cramér–Rao bound for a shift."""
    if held.least <= 0:
        return math.inf
    return noise * math.sqrt((1 / held.least + 1 / held.most) / 2)


def coherence(rest: Square) -> float:
    """By how much `slip` has to grow where what differs hangs together from pixel to pixel, 1 for noise.

    (1 + r)/(1 − r) for neighbours that correlate by r: the root of the number of pixels, in both directions,
    that count as one in a first-order autoregressive field (Bartlett 1946). A patch that bends has a large r.
    """
    power = float((rest**2).mean())
    if power < 1e-6:
        return 1.0
    beside = float((rest[:, 1:] * rest[:, :-1]).mean() + (rest[1:] * rest[:-1]).mean()) / 2
    r = min(max(beside / power, 0.0), 0.95)
    return (1 + r) / (1 - r)


def _moments(square: Square) -> tuple[float, float]:
    smooth = cv2.GaussianBlur(square.astype(np.float64), (0, 0), 1.0)
    down, across = np.gradient(smooth)
    mixed = float((across * down).sum())
    least, most = np.linalg.eigvalsh([[float((across**2).sum()), mixed], [mixed, float((down**2).sum())]])
    return max(float(least), 0.0), float(most)


def _rest(first: Square, second: Square) -> Square:
    """What differs between two patches after brightness and contrast are fitted."""
    a, b = first - first.mean(), second - second.mean()
    power = float((a**2).sum())
    gain = float((a * b).sum()) / power if power > 1e-6 else 0.0
    return np.asarray(b - gain * a, dtype=np.float32)
