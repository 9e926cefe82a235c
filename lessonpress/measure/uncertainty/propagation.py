"""From the uncertainties of inputs to that of a number: first order (JCGM 100) and Monte Carlo (JCGM 101).

A model is a numpy function over columns: it takes a mapping from an input to an array of shape (n,) and
returns an array of shape (n,), row by row. The same model serves both ways.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from uncertainties import wrap

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.uncertainty.quantities import Quantity

Values = Mapping[Quantity, FloatArray]
Model = Callable[[Values], FloatArray]

DRAWS = 20_000  # the ends of a 95 % interval are then known to about 1 % of its width
TRIAL_DRAWS = 2_000  # enough to see whether first order holds: u to 1.6 %
SEED = 101
LARGEST_DIFFERENCE = 0.1  # of u between first order and trial draws
LARGEST_BIAS = 0.25  # of u between the best value and the mean of trial draws


class Inputs(Protocol):
    """What numbers share: a variable for each input, and draws. `SharedInputs`, or those of two clips."""

    def __contains__(self, quantity: Quantity, /) -> bool: ...

    def variable(self, quantity: Quantity, /) -> Any: ...

    def draws(self, count: int, seed: int, /) -> Values: ...


@dataclass(frozen=True)
class FirstOrder:
    """value: the model at the best values; slopes: its sensitivity to each input, per unit of that input.

    variable: the number as an `uncertainties` value that shares the inputs' variables.
    """

    value: float
    slopes: Mapping[Quantity, float]
    variable: Any

    @property
    def u(self) -> float:
        """Standard uncertainty, from the package, with every correlation."""
        return float(self.variable.std_dev)


@dataclass(frozen=True)
class MonteCarlo:
    """A Monte Carlo propagation: value at the best inputs, and the ends of the central 95 % of the draws."""

    value: float
    low: float
    high: float
    u: float
    mean: float
    draws: int


class Recorded(Mapping[Quantity, FloatArray]):
    """The best values, one row, recording which inputs a model reads, in their order."""

    def __init__(self) -> None:
        self._read: dict[Quantity, None] = {}

    def record(self, quantities: Iterable[Quantity]) -> None:
        """These are read, too."""
        self._read |= dict.fromkeys(quantities)

    def __getitem__(self, quantity: Quantity) -> FloatArray:
        self._read[quantity] = None
        return np.array([quantity.value])

    def __iter__(self) -> Iterator[Quantity]:
        return iter(self._read)

    def __len__(self) -> int:
        return len(self._read)


class Steps(Mapping[Quantity, FloatArray]):
    """The best values in 2 n rows, each of n uncertain inputs moved by its u: up in row i, down in row n + i.

    read: the inputs that the model reads. uncertain: the n of them with a u.
    """

    def __init__(self, read: Sequence[Quantity]) -> None:
        self.uncertain = [quantity for quantity in read if quantity.u > 0]
        rows = 2 * len(self.uncertain)
        self._columns = {quantity: np.full(rows, quantity.value, np.float64) for quantity in read}
        for row, quantity in enumerate(self.uncertain):
            self._columns[quantity][row] += quantity.u
            self._columns[quantity][len(self.uncertain) + row] -= quantity.u

    def __getitem__(self, quantity: Quantity) -> FloatArray:
        return self._columns[quantity]

    def __iter__(self) -> Iterator[Quantity]:
        return iter(self._columns)

    def __len__(self) -> int:
        return len(self._columns)


def inputs_of(model: Model) -> tuple[float, tuple[Quantity, ...]]:
    """The model's value at the best inputs, and the inputs it reads."""
    recorded = Recorded()
    return float(model(recorded)[0]), tuple(recorded)


def wrapped(difference: FloatArray, period: float | None) -> FloatArray:
    """A difference of directions brought into [-period/2, period/2); other numbers as they are."""
    if period is None:
        return difference
    return np.asarray((difference + period / 2) % period - period / 2)


def first_order(model: Model, inputs: Inputs, *, period: float | None = None) -> FirstOrder:
    """Propagate by first order with sensitivities from central differences.

    period: 360 for a direction in degrees, so that a step across the seam is a small one.
    Source: JCGM 100:2008, 5.1.2, equation (10) and 5.2.2, equation (13), the correlations being those of the
    inputs' variables; sensitivities after 5.1.3, note 2: half of f(x + u) − f(x − u) is taken for c u.
    """
    value, read = inputs_of(model)
    steps = Steps(read)
    uncertain = steps.uncertain
    moved = model(steps) if uncertain else np.zeros(0)
    half = wrapped(moved[: len(uncertain)] - moved[len(uncertain) :], period) / 2
    slopes = {one: float(change / one.u) for one, change in zip(uncertain, half, strict=True)}
    return FirstOrder(value, slopes, _linear(value, slopes, inputs))


def _linear(value: float, slopes: Mapping[Quantity, float], inputs: Inputs) -> Any:
    """A number that moves with its inputs' variables by these slopes, made at once and not term by term."""
    constant = [lambda *_, slope=slope: slope for slope in slopes.values()]
    return wrap(lambda *_: value, constant)(*map(inputs.variable, slopes))


def holds(estimate: FirstOrder, model: Model, inputs: Inputs, *, period: float | None = None) -> bool:
    """Whether first order tells the truth about this number, tried with a few draws.

    Source: the idea of JCGM 101:2008, clause 8 (Monte Carlo validates the GUM), with tolerances of
    this program's own: a tenth of u, and a quarter of u for the mean.
    """
    drawn = monte_carlo(model, inputs, period=period, draws=TRIAL_DRAWS)
    alike = abs(drawn.u - estimate.u) <= LARGEST_DIFFERENCE * estimate.u
    return alike and abs(drawn.mean - estimate.value) <= LARGEST_BIAS * estimate.u


def monte_carlo(
    model: Model, inputs: Inputs, *, period: float | None = None, draws: int = DRAWS, seed: int = SEED
) -> MonteCarlo:
    """Propagate by drawing every input from its distribution; the same seed gives the same numbers.

    Inputs are taken as independent, as those of one survey are.
    Source: JCGM 101:2008, 7.2 to 7.7 (the probabilistically symmetric 95 % interval).
    """
    value, _ = inputs_of(model)
    centred = value + wrapped(model(inputs.draws(draws, seed)) - value, period)
    low, high = np.quantile(centred, (0.025, 0.975))
    return MonteCarlo(value, float(low), float(high), float(np.std(centred)), float(np.mean(centred)), draws)
