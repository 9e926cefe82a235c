"""The circle nearest to a set of points, in the sense of their distances from it.

Source: W. Gander, G. H. Golub and R. Strebel, Least-squares fitting of circles and ellipses, BIT 34 (1994),
section 3: Gauss–Newton on the distances dᵢ = |pᵢ − c| − r, here damped (K. Levenberg 1944) and with r = mean
|pᵢ − c| put in, which is the best r for every c.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from lessonpress.measure.formulas.arrays import FloatArray

ROUNDS = 200
SETTLED = 1e-9  # of the spread of the points
Circle = tuple[FloatArray, FloatArray, FloatArray]


def circle(x: FloatArray, y: FloatArray) -> Circle:
    """Centre and radius (a, b, r), each of shape (n,), of the circles through points of shape (points, n).

    The sum of squared distances from the circle is least. Rows that do not settle, such as points on a line,
    are nan. Three points or more.
    """
    mean_x, mean_y = x.mean(axis=0), y.mean(axis=0)
    spread = np.sqrt(((x - mean_x) ** 2 + (y - mean_y) ** 2).mean(axis=0))
    x, y = (x - mean_x) / spread, (y - mean_y) / spread
    a, b = _first(x, y)
    settled = _refine(x, y, a, b)
    lost = np.where(settled, 0.0, np.nan)
    r = np.hypot(x - a, y - b).mean(axis=0)
    return mean_x + spread * a + lost, mean_y + spread * b + lost, spread * r + lost


def _refine(x: FloatArray, y: FloatArray, a: FloatArray, b: FloatArray) -> NDArray[np.bool_]:
    """Move the centres (a, b) in place to their best; True where one has settled.

    Rows that have settled are left alone: most do in a few rounds, and the rest are few.
    """
    settled = np.zeros(a.shape, dtype=bool)
    damping = np.full_like(a, 1e-5)
    cost = _cost(x, y, a, b)
    for _ in range(ROUNDS):
        rows = np.flatnonzero(~settled)
        if not len(rows):
            break
        near_x, near_y, near_a, near_b = x[:, rows], y[:, rows], a[rows], b[rows]
        step_a, step_b = _step(near_x, near_y, near_a, near_b, damping[rows])
        tried = _cost(near_x, near_y, near_a + step_a, near_b + step_b)
        better = tried <= cost[rows]
        a[rows] = near_a = np.where(better, near_a + step_a, near_a)
        b[rows] = near_b = np.where(better, near_b + step_b, near_b)
        cost[rows] = np.where(better, tried, cost[rows])
        damping[rows] *= np.where(better, 1 / 5, 5)
        settled[rows] = np.hypot(step_a, step_b) < SETTLED * (1 + np.hypot(near_a, near_b))
    return settled


def _cost(x: FloatArray, y: FloatArray, a: FloatArray, b: FloatArray) -> FloatArray:
    away = np.hypot(x - a, y - b)
    return np.asarray(((away - away.mean(axis=0)) ** 2).sum(axis=0))


def _step(
    x: FloatArray, y: FloatArray, a: FloatArray, b: FloatArray, damping: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """The damped Gauss–Newton step of the centre, by the 2 × 2 normal equations."""
    away = np.hypot(x - a, y - b)
    away = np.where(away == 0, 1e-300, away)
    jx, jy = (a - x) / away, (b - y) / away
    jx, jy = jx - jx.mean(axis=0), jy - jy.mean(axis=0)
    residual = away - away.mean(axis=0)
    xx, xy, yy = (jx * jx).sum(0), (jx * jy).sum(0), (jy * jy).sum(0)
    xx, yy = xx * (1 + damping), yy * (1 + damping)
    rx, ry = -(jx * residual).sum(0), -(jy * residual).sum(0)
    determinant = xx * yy - xy * xy
    determinant = np.where(np.abs(determinant) < 1e-300, np.nan, determinant)
    return (yy * rx - xy * ry) / determinant, (xx * ry - xy * rx) / determinant


def _first(x: FloatArray, y: FloatArray) -> tuple[FloatArray, FloatArray]:
    """A centre to begin from: the linear least-squares circle of points about their mean."""
    square = x * x + y * y
    xx, xy, yy = (x * x).sum(0), (x * y).sum(0), (y * y).sum(0)
    rx, ry = (x * square).sum(0) / 2, (y * square).sum(0) / 2
    determinant = xx * yy - xy * xy
    determinant = np.where(np.abs(determinant) < 1e-12, np.nan, determinant)
    return (yy * rx - xy * ry) / determinant, (xx * ry - xy * rx) / determinant
