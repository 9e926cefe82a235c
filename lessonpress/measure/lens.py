"""Radial distortion of a lens, done and undone.

Source: D. C. Brown, Close-range camera calibration, Photogrammetric Engineering 37 (1971), radial terms:
distorted = undistorted (1 + k1 r² + k2 r⁴), r the undistorted distance from the axis in focal lengths.
"""

from __future__ import annotations

import math

import numpy as np

from lessonpress.measure.quantities import FloatArray
from lessonpress.measure.refusal import Refusal
from lessonpress.measure.setting import Lens

Pair = tuple[FloatArray, FloatArray]
ROUNDS = 30
SETTLED = 1e-13  # focal lengths


def straight(lens: Lens) -> bool:
    """Whether the lens bends nothing."""
    return lens.k1 == 0 and lens.k2 == 0


def refused(lens: Lens) -> Refusal | None:
    """Why nothing can be measured through this lens, or None: its r is in focal lengths."""
    if straight(lens) or lens.focal is not None:
        return None
    return Refusal("the lens's bending is given without its focal length", "add focal, in px, under lens")


def _focal(lens: Lens) -> float:
    if lens.focal is None:
        raise ValueError("a lens that bends needs its focal length")
    return lens.focal


def distorted(lens: Lens, p: FloatArray, q: FloatArray) -> Pair:
    """Offsets as the lens shows them, px, from straight ones. ValueError without focal length."""
    if straight(lens):
        return p, q
    square = (p**2 + q**2) / _focal(lens) ** 2
    stretch = 1 + lens.k1 * square + lens.k2 * square**2
    return p * stretch, q * stretch


def fold(lens: Lens) -> float:
    """How far from the axis, in px undistorted, the formula turns back on itself; inf where it never does.

    The smallest root of d(r (1 + k1 r² + k2 r⁴))/dr = 1 + 3 k1 r² + 5 k2 r⁴. Beyond it no lens is meant.
    """
    if straight(lens):
        return math.inf
    squares = np.roots([5 * lens.k2, 3 * lens.k1, 1.0])
    ahead = [float(root.real) for root in squares if abs(root.imag) < 1e-12 and root.real > 0]
    return _focal(lens) * math.sqrt(min(ahead)) if ahead else math.inf


def undistorted(lens: Lens, p: FloatArray, q: FloatArray) -> Pair:
    """The inverse of `distorted`, by Newton's method on the radius; nan where the lens folds the picture."""
    if straight(lens):
        return p, q
    shown = np.hypot(p, q) / _focal(lens)
    r = shown.copy()
    for _ in range(ROUNDS):
        slope = 1 + 3 * lens.k1 * r**2 + 5 * lens.k2 * r**4
        step = (r * (1 + lens.k1 * r**2 + lens.k2 * r**4) - shown) / slope
        r = r - step
        if not np.any(np.abs(step) > SETTLED):
            break
    slope = 1 + 3 * lens.k1 * r**2 + 5 * lens.k2 * r**4
    ratio = np.where(slope > 0, np.divide(r, shown, out=np.ones_like(r), where=shown > 0), np.nan)
    return p * ratio, q * ratio
