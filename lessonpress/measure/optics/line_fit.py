"""The least squares of the plumb-line method: the bending that puts marks on straight lines, row by row.

Source: D. C. Brown, Close-range camera calibration, Photogrammetric Engineering 37 (1971). Distances are
those in the picture as clicked, to first order (P. D. Sampson, Computer Graphics and Image Processing 18
(1982)): measured in the undistorted picture, a lens that shrinks everything would fit best. Lengths are in
one unit of the caller's, shapes (lines, marks, n) for n rows of a batch.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.optics.bend import Bend, slope, undistorted

ROUNDS = 40
LONGEST_STEP = 0.2  # of a and b in one round
SETTLED = 1e-8  # of a and b, which clicks leave unsure by 1e-3 and more


@dataclass(frozen=True)
class Fit:
    """What does not change from row to row.

    sigma: standard uncertainty of each mark, (lines, marks, 1), inf where a line has no more marks. spread:
    of b about what is expected. start: a and b to begin from.
    """

    sigma: FloatArray
    spread: float
    start: tuple[float, float] = (0.0, 0.0)

    def solved(self, x: FloatArray, y: FloatArray, expected: FloatArray) -> Bend:
        """Gauss–Newton over a and b for every row, the lines being laid anew through the marks each round.

        x, y: offsets from the axis as shown. expected: of b, an observation beside the marks. Lines are
        eliminated by projection (L. Kaufman, BIT 15 (1975)): what a line's own offset and direction can take
        up of a column is taken off it. Rows that do not settle are nan.
        """
        a, b = (np.full(x.shape[2], first) for first in self.start)
        step = np.full_like(a, np.inf)
        for _ in range(ROUNDS):
            by_a, by_b, off = columns(Bend(a, b), x, y, self.sigma)
            aa, ab, ar = (_total(by_a * other) for other in (by_a, by_b, off))
            bb = _total(by_b * by_b) + self.spread**-2
            br = _total(by_b * off) + (b - expected) / self.spread**2
            determinant = aa * bb - ab**2
            step_a = np.clip((ab * br - bb * ar) / determinant, -LONGEST_STEP, LONGEST_STEP)
            step_b = np.clip((ab * ar - aa * br) / determinant, -LONGEST_STEP, LONGEST_STEP)
            a, b, step = a + step_a, b + step_b, np.maximum(np.abs(step_a), np.abs(step_b))
            if not np.any(step > SETTLED):
                break
        lost = np.where(step <= 1e2 * SETTLED, 0.0, np.nan)
        return Bend(a + lost, b + lost)


def _total(column: FloatArray) -> FloatArray:
    return np.asarray(column.sum(axis=(0, 1)))


def columns(
    bend: Bend, x: FloatArray, y: FloatArray, sigma: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """What the marks' distances from their lines gain by a and by b, and the distances, all in their u.

    x, y: offsets as shown, shape (lines, marks, n). Less what a line's own offset and direction take up.
    """
    u, v = undistorted(bend, x, y)
    r = np.hypot(u, v)
    grown = slope(bend, r)
    weight = sigma**-2 + np.zeros_like(u)
    for _ in range(2):  # the line, then again with each mark weighed by how its click spreads across it
        (du, dv), along, across = _laid(u, v, weight)
        weight = 1 / (sigma**2 * _spread(u, v, r, grown, np.hypot(x, y), (-dv, du)))
    root = np.sqrt(weight)
    off = across * root
    by_a = _less(-(-dv * u + du * v) * r**2 / grown * root, root, along)
    by_b = _less(-(-dv * u + du * v) * r**4 / grown * root, root, along)
    return by_a, by_b, off


def _laid(
    u: FloatArray, v: FloatArray, weight: FloatArray
) -> tuple[tuple[FloatArray, FloatArray], FloatArray, FloatArray]:
    """The line of least weighed squared distances: its direction, and the marks along and across it."""
    total = _of_line(weight)
    u, v = u - _of_line(weight * u) / total, v - _of_line(weight * v) / total
    turn = 0.5 * np.arctan2(2 * _of_line(weight * u * v), _of_line(weight * (u * u - v * v)))
    du, dv = np.cos(turn), np.sin(turn)
    return (du, dv), du * u + dv * v, du * v - dv * u


def _spread(
    u: FloatArray,
    v: FloatArray,
    r: FloatArray,
    grown: FloatArray,
    shown: FloatArray,
    normal: tuple[FloatArray, FloatArray],
) -> FloatArray:
    """The square by which undistorting stretches a click's error across a line, from its two directions."""
    safe = np.where(r > 0, r, 1.0)
    radial = (normal[0] * u + normal[1] * v) / safe
    around = (normal[1] * u - normal[0] * v) / safe
    ratio = np.divide(r, shown, out=np.ones_like(r), where=shown > 0)
    return np.where(r > 0, (radial / grown) ** 2 + (around * ratio) ** 2, 1.0)


def _of_line(column: FloatArray) -> FloatArray:
    return np.asarray(column.sum(axis=1, keepdims=True))


def _less(column: FloatArray, root: FloatArray, along: FloatArray) -> FloatArray:
    """A column less its parts along the line's offset (root) and direction (root × along)."""
    tilt = root * along
    column = column - root * _of_line(root * column) / _of_line(root**2)
    tilt = tilt - root * _of_line(root * tilt) / _of_line(root**2)
    return np.asarray(column - tilt * _of_line(tilt * column) / _of_line(tilt**2))
