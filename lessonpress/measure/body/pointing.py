"""How far a part points toward the camera, by what it is seen shorter than it is: is its length of use?

A part of length ℓ whose ends are seen s apart has Δ = ±√(ℓ² − s²) between the depths of its ends: two
answers, and how likely each is says the posture. With Δ known as m ± σ by itself and the length as ℓ ± v its
density is

    p(Δ) ∝ exp(−½ ((Δ − m) ÷ σ)² − ½ ((√(s(Δ)² + Δ²) − ℓ) ÷ v)²),

the mean depth of both ends left as it is. Perspective makes s depend on Δ.
Source: Bayes' theorem on one unknown, any text on statistics.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from lessonpress.measure.body.linked import Place, distance
from lessonpress.measure.formulas.arrays import FloatArray

NODES, REACH = 241, 4.5  # of the grid, and σ to either side of m


@dataclass(frozen=True)
class Pointing:
    """Δ, m, from the first to the second of two places, its density (summing to 1), and their distance, m."""

    apart: FloatArray
    density: FloatArray
    seen: FloatArray
    u: float

    @property
    def spread(self) -> float:
        """How widely Δ may lie, m: the σ of the normal distribution of the same entropy.

        Where both answers stay, that is what both of them take together, and not how far they lie apart.
        Source: T. M. Cover and J. A. Thomas, Elements of Information Theory, 8.1 (½ log 2πe σ²).
        """
        step = float(self.apart[1] - self.apart[0])
        entropy = -float(np.sum(self.density * np.log(np.maximum(self.density, 1e-300) / step)))
        return math.exp(entropy) / math.sqrt(2 * math.pi * math.e)

    @property
    def toward(self) -> float:
        """The part of the density in which Δ is positive."""
        step = float(self.apart[1] - self.apart[0])
        positive = np.clip(self.apart / step + 0.5, 0, 1)  # of each node's share, half a step about it
        return float(positive @ self.density)

    def too_long(self, length: float) -> float:
        """By how much the part is seen longer than it is, at the Δ that suits it best; else 0, m."""
        return max(float(self.seen.min()) - length, 0.0)


def pointing(first: Place, second: Place, length: float, v: float, camera: float) -> Pointing:
    """Of a part of length ± v between two places. camera: how far it is from the subject plane; all m."""
    u = math.hypot(first.u, second.u)
    share = (first.u / u) ** 2
    mean = (1 - share) * first.depth + share * second.depth
    apart = second.depth - first.depth + u * np.linspace(-REACH, REACH, NODES)
    seen = distance(first, mean - share * apart, second, mean + (1 - share) * apart, camera)
    square = ((apart - second.depth + first.depth) / u) ** 2 + ((seen - length) / v) ** 2
    density = np.exp(-(square - square.min()) / 2)
    return Pointing(apart, density / density.sum(), seen, u)
