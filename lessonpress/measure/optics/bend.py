"""Radial distortion of a lens, done and undone.

Source: D. C. Brown, Close-range camera calibration, Photogrammetric Engineering 37 (1971), radial terms:
distorted = undistorted (1 + k1 r² + k2 r⁴), r the undistorted distance from the axis in focal lengths.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import Lens
from lessonpress.measure.uncertainty.refusal import Refusal

ROUNDS = 30
SETTLED = 1e-10  # px
REAL = 1e-12  # a root's imaginary part below this is rounding


@dataclass(frozen=True)
class Bend:
    """The bending in px: distorted = undistorted (1 + a r² + b r⁴), r in px. a: px⁻², b: px⁻⁴.

    a = k1/f² and b = k2/f⁴, which need no focal length by themselves; one for each row of a batch.
    """

    a: FloatArray
    b: FloatArray

    @cached_property
    def none(self) -> bool:
        """Whether nothing is bent."""
        return not np.any(self.a) and not np.any(self.b)


NO_BEND = Bend(np.zeros(1), np.zeros(1))


def bend_of(lens: Lens) -> Bend:
    """The bending of stated coefficients. ValueError for coefficients without their focal length."""
    if lens.k1 == 0 and lens.k2 == 0:
        return NO_BEND
    if lens.focal is None:
        raise ValueError("a lens that bends needs its focal length")
    return Bend(np.array([lens.k1 / lens.focal**2]), np.array([lens.k2 / lens.focal**4]))


def refused(lens: Lens) -> Refusal | None:
    """Why nothing can be measured through this lens, or None: its r is in focal lengths."""
    if (lens.k1 == 0 and lens.k2 == 0) or lens.focal is not None:
        return None
    return Refusal("the lens's bending is given without its focal length", "add focal, in px, under lens")


def distorted(lens: Lens | Bend, p: FloatArray, q: FloatArray) -> Pair:
    """Offsets as the lens shows them, px, from straight ones."""
    bend = _bend(lens)
    square = p**2 + q**2
    stretch = 1 + bend.a * square + bend.b * square**2
    return p * stretch, q * stretch


def fold(lens: Lens | Bend) -> float:
    """How far from the axis, in px undistorted, the formula turns back on itself; inf where it never does.

    The smallest root of d(r (1 + a r² + b r⁴))/dr = 1 + 3 a r² + 5 b r⁴. Beyond it no lens is meant.
    """
    bend = _bend(lens)
    if bend.none:
        return math.inf
    a, b = float(bend.a[0]), float(bend.b[0])
    unit = 1 / math.sqrt(max(abs(a), math.sqrt(abs(b))))  # px: coefficients of about one are safe to solve
    squares = np.roots([5 * b * unit**4, 3 * a * unit**2, 1.0])
    ahead = [float(root.real) for root in squares if abs(root.imag) < REAL and root.real > 0]
    return unit * math.sqrt(min(ahead)) if ahead else math.inf


def undistorted(lens: Lens | Bend, p: FloatArray, q: FloatArray) -> Pair:
    """The inverse of `distorted`, by Newton's method on the radius; nan where the lens folds the picture."""
    bend = _bend(lens)
    if bend.none:
        return p, q
    with np.errstate(all="ignore"):  # rows that fold become nan
        shown = np.hypot(p, q)
        r = shown + np.zeros_like(bend.a)
        for _ in range(ROUNDS):
            step = (r * (1 + bend.a * r**2 + bend.b * r**4) - shown) / slope(bend, r)
            r = r - step
            if not np.any(np.abs(step) > SETTLED):
                break
        ratio = np.divide(r, shown, out=np.ones_like(r), where=shown > 0)
        ratio = np.where((slope(bend, r) > 0) & (ratio > 0), ratio, np.nan)
    return p * ratio, q * ratio


def slope(bend: Bend, r: FloatArray) -> FloatArray:
    """How fast the distorted radius grows with the undistorted one, r in px."""
    return np.asarray(1 + 3 * bend.a * r**2 + 5 * bend.b * r**4)


def _bend(lens: Lens | Bend) -> Bend:
    return lens if isinstance(lens, Bend) else bend_of(lens)
