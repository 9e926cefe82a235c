"""How large the errors of a suggested mark are: the u that is learnt for each part of the body.

u is a part that a mark always has and a part of what the looks differ by, shared out to the two axes. The
three numbers are the likeliest for errors that are now and then far off (Student's distribution with FREEDOM
degrees of freedom, K. L. Lange, R. J. A. Little and J. M. G. Taylor 1989, Journal of the American Statistical
Association 84, 881-896), each golfer counted as much. Then all is made as large as lets 95 of 100 coordinates
lie within 2 u, again each golfer counted as much, and as many of rendered films by themselves, which are more
like photographs than those drawn quickly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

from lessonpress.footage.pose.doubts import UNSURE

Floats = NDArray[np.float64]

WITHIN = 0.95  # of coordinates, within 2 u
FREEDOM = 4.0
LEAST = 0.004  # of the square's side: one px of the network's picture
BEGUN = (np.log(0.012), 0.0, np.pi / 4)  # of the logarithms of least and spread, and of the angle of the axes


@dataclass(frozen=True)
class Size:
    """As of `LearntMark`, in sides of the square."""

    least: float
    spread: float
    axes: tuple[float, float]

    def u(self, differ: Floats) -> Floats:
        """(n, 2), across and down. differ: (n,), by how much the looks do."""
        return np.outer(np.hypot(self.least, self.spread * differ), self.axes)


def size_of(golfers: Sequence[Floats], rendered: Sequence[Floats]) -> Size:
    """Of the errors of some golfers and of rendered films, each (n, 3): across, down, and what the looks
    differ by.
    """
    shape = _size(*minimize(lambda told: _unlikely(golfers, _size(*told)), BEGUN, method="Nelder-Mead").x)
    times = 1.0
    for _ in range(5):  # what is too unsure to be suggested goes by u itself
        times = max(_needed(some, shape, times) for some in (golfers, rendered))
    across, down = (round(float(one), 2) for one in shape.axes)
    least = max(LEAST, round(times * shape.least, 4))
    return Size(least, round(times * shape.spread, 2), (across, down))


def _size(least: float, spread: float, angle: float) -> Size:
    axes = np.sqrt(2) * np.array([np.cos(angle), np.sin(angle)])
    return Size(float(np.exp(least)), float(np.exp(spread)), (float(axes[0]), float(axes[1])))


def _unlikely(golfers: Sequence[Floats], size: Size) -> float:
    """Minus the logarithm of the density, but for a constant."""
    if min(size.axes) <= 0:
        return float("inf")
    found = 0.0
    for errors in golfers:
        u = size.u(errors[:, 2])
        far = np.log1p((errors[:, :2] / u) ** 2 / FREEDOM)
        found += float(np.mean(np.log(u) + (FREEDOM + 1) / 2 * far))
    return found


def _needed(every_one: Sequence[Floats], size: Size, times: float) -> float:
    """By what u is to be multiplied, so that WITHIN of the coordinates of marks that are suggested at so
    many times u lie within 2 u.
    """
    ratios, weights = [], []
    for errors in every_one:
        u = size.u(errors[:, 2])
        given = errors[times * u.max(axis=1) / max(size.axes) <= UNSURE]
        ratio = np.abs(given[:, :2] / size.u(given[:, 2])).ravel()
        ratios.append(ratio)
        weights.append(np.full(len(ratio), 1 / max(len(ratio), 1)))
    every, weight = np.concatenate(ratios), np.concatenate(weights)
    order = np.argsort(every)
    shares = np.cumsum(weight[order]) / weight.sum()
    return float(every[order][np.searchsorted(shares, WITHIN)]) / 2
