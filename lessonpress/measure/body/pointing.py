"""How far a part of the body points toward the camera, by what it is seen shorter than it is.

A part of length ℓ whose ends are seen s apart has Δ = ±√(ℓ² − s²) between the depths of its ends: two
answers, and how likely each is says the posture. With Δ known as m ± σ by itself and the length as ℓ ± v its
density is

    p(Δ) ∝ exp(−½ ((Δ − m) ÷ σ)² − ½ ((√(s(Δ)² + Δ²) − ℓ) ÷ v)²),

which is laid out over a grid and summed up, so that both answers stay, each with its weight. Perspective
makes s depend on Δ: across = a + b Δ, up likewise.
Source: Bayes' theorem on one unknown, any text on statistics; draws from a density by the inverse of its sum,
JCGM 101:2008, annex C.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.measure.formulas.arrays import FloatArray, Pair

NODES, REACH = 160, 4.5  # of the grid, and σ to either side of m


@dataclass(frozen=True)
class Pointing:
    """A part in each row. across, up: (a, b) of what is seen; known ± u: Δ by itself; length ± v; all m."""

    across: Pair
    up: Pair
    known: FloatArray
    u: float
    length: FloatArray
    v: float

    def grid(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Differences of depth and their densities, not normed, (n, NODES) each."""
        apart = self.known[:, None] + self.u * np.linspace(-REACH, REACH, NODES)
        x, y = (part[0][:, None] + part[1][:, None] * apart for part in (self.across, self.up))
        short = (np.sqrt(x**2 + y**2 + apart**2) - self.length[:, None]) / self.v
        square = ((apart - self.known[:, None]) / self.u) ** 2 + short**2
        return apart, np.exp(-(square - square.min(axis=1, keepdims=True)) / 2)

    def at(self, normal: FloatArray) -> FloatArray:
        """The Δ below which as much of the density lies as of a standard normal one below `normal`, m."""
        apart, density = self.grid()
        summed = np.cumsum((density[:, 1:] + density[:, :-1]) / 2, axis=1)
        summed = np.concatenate([np.zeros((len(summed), 1)), summed / summed[:, -1:]], axis=1)
        wanted = _below(normal)[:, None]
        right = np.clip((summed < wanted).sum(axis=1), 1, NODES - 1)
        rows = np.arange(len(right))
        low, high = summed[rows, right - 1], summed[rows, right]
        part = (wanted[:, 0] - low) / np.maximum(high - low, np.finfo(float).tiny)
        return np.asarray(apart[rows, right - 1] + part * (apart[rows, right] - apart[rows, right - 1]))

    def spread(self) -> FloatArray:
        """Standard deviation of Δ, m."""
        apart, density = self.grid()
        weight = density / density.sum(axis=1, keepdims=True)
        mean = (weight * apart).sum(axis=1, keepdims=True)
        return np.asarray(np.sqrt((weight * (apart - mean) ** 2).sum(axis=1)))

    def toward(self) -> FloatArray:
        """The part of the density in which Δ is positive."""
        apart, density = self.grid()
        cell = self.u * 2 * REACH / (NODES - 1)
        positive = np.clip(apart / cell + 0.5, 0, 1)  # of each node's share, which reaches half a cell about
        return np.asarray((positive * density).sum(axis=1) / density.sum(axis=1))

    def too_long(self) -> FloatArray:
        """By how many v the part is seen longer than it can be, at the Δ that suits it best; else 0."""
        apart, _ = self.grid()
        x, y = (part[0][:, None] + part[1][:, None] * apart for part in (self.across, self.up))
        least = np.sqrt(x**2 + y**2 + apart**2).min(axis=1)
        return np.asarray(np.maximum(least - self.length, 0) / self.v)


def _below(normal: FloatArray) -> FloatArray:
    """How much of the standard normal distribution lies below a number."""
    return np.array([math.erfc(-one / math.sqrt(2)) / 2 for one in normal.tolist()])
