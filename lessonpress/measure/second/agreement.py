"""Whether two clips can show one swing: what both say of the same mark at the same instant, held together.

Both views see how high a mark is; the two lenses differ in height by one unknown amount for all. Less that,
every difference should be nothing. All of them are taken together with all that they share:
χ² = r C⁻¹ r, C by first order over the inputs. Source: generalised least squares, any text on adjustment; the
propagation is JCGM 102:2011, 6.2 (several output quantities, C = J U Jᵀ).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.optics.lens import chi_square_limit
from lessonpress.measure.uncertainty.propagation import Recorded, Steps, Values
from lessonpress.measure.uncertainty.quantities import Quantity

FLOOR = 0.003  # m: what is not worth telling apart, and keeps C from being singular
Rows = Callable[[Values], Sequence[FloatArray]]


@dataclass(frozen=True)
class Agreement:
    """square: χ² of the differences less what one common amount explains. free: how many are free.

    worst: the position of the row that lies farthest off, and off: by how much, m, pm: against what ±.
    """

    square: float
    free: int
    worst: int
    off: float
    pm: float

    @property
    def holds(self) -> bool:
        """False where so large a χ² comes once in 700 times by chance."""
        return self.square <= chi_square_limit(self.free)


def agreement(rows: Rows, common: FloatArray) -> Agreement:
    """common: 1 for each row that one unknown amount adds to, 0 for the others."""
    best, _, half = derivatives(rows)
    covariance = half @ half.T + FLOOR**2 * np.eye(len(best))
    inverse = np.linalg.inv(covariance)
    weight = float(common @ inverse @ common)
    amount = float(common @ inverse @ best) / weight if weight else 0.0
    left = best - amount * common
    u = np.sqrt(np.diag(covariance))
    worst = int(np.argmax(np.abs(left) / u))
    free = len(best) - bool(weight)
    return Agreement(float(left @ inverse @ left), free, worst, float(left[worst]), 2 * float(u[worst]))


def derivatives(rows: Rows) -> tuple[FloatArray, tuple[Quantity, ...], FloatArray]:
    """The rows at the best values, the uncertain inputs, and what one u of each input makes of each row."""
    recorded = Recorded()
    best = np.array([float(row[0]) for row in rows(recorded)])
    steps = Steps(tuple(recorded))
    count = len(steps.uncertain)
    moved = np.stack([np.broadcast_to(row, (count * 2,)) for row in rows(steps)])
    return best, tuple(steps.uncertain), (moved[:, :count] - moved[:, count:]) / 2
