"""Derivatives of a noisy motion by a polynomial laid through neighbouring places.

Source: A. Savitzky and M. J. E. Golay, Smoothing and differentiation of data by simplified least squares
procedures, Analytical Chemistry 36 (1964): least squares over a window. Here the times need not be even, so
the weights are solved for instead of looked up; for even times they are the table's.
"""

from __future__ import annotations

import math

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray


def weights(times: FloatArray, degree: int, order: int) -> FloatArray:
    """Weights w with Σ wᵢ yᵢ the derivative of given order at time 0 of the polynomial through the yᵢ.

    times: shape (points,) or (points, n), relative to the instant asked for. Returns the same shape.
    Order 0 smooths. The polynomial's coefficients are the pseudo-inverse of the Vandermonde matrix times y.
    """
    columns = times.reshape(len(times), -1).T  # (n, points)
    size = np.max(np.abs(columns)) or 1.0
    vandermonde = (columns / size)[..., None] ** np.arange(degree + 1)  # (n, points, degree + 1)
    rows = np.linalg.pinv(vandermonde)[:, order, :] * math.factorial(order) / size**order
    return np.asarray(rows.T.reshape(times.shape))


def reading(turn: float, places: FloatArray, degree: int) -> float:
    """What the derivative's size reads, as a fraction of the truth, on a circle turned evenly by `turn`.

    turn: rad between neighbouring places. places: positions of the window's points, in places, relative to
    the one asked for. The filter's answer to exp(i turn j) over i turn: 1 − 3.4 φ²/6 for five even points and
    a parabola, to the second order in φ.
    """
    if turn == 0:
        return 1.0
    derivative = weights(places.astype(float), degree, 1)
    return float(abs(np.sum(derivative * np.exp(1j * turn * places)) / turn))
