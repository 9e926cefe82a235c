"""From the uncertainties of inputs to that of a number: first order (JCGM 100) and Monte Carlo (JCGM 101).

A model is a numpy function over named columns: it takes a mapping from an input's name to an array of shape
(n,) and returns an array of shape (n,), row by row. The same model serves both ways.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.uncertainty.quantities import Quantity

Values = Mapping[str, FloatArray]
Model = Callable[[Values], FloatArray]

DRAWS = 20_000  # the ends of a 95 % interval are then known to about 1 % of its width
TRIAL_DRAWS = 2_000  # enough to see whether first order holds: u to 1.6 %
SEED = 101
LARGEST_DIFFERENCE = 0.1  # of u between first order and trial draws
LARGEST_BIAS = 0.25  # of u between the best value and the mean of trial draws


class Inputs(Protocol):
    """Quantities by name with their variables; `Quantities` and the union of several are such."""

    def __getitem__(self, name: str, /) -> Quantity: ...

    def variable(self, name: str, /) -> Any: ...

    def draws(self, count: int, seed: int, /) -> Values: ...


@dataclass(frozen=True)
class FirstOrder:
    """value: the model at the best values; slopes: its sensitivity to each input, per unit of that input.

    variable: the number as an `uncertainties` value that shares the inputs' variables.
    """

    value: float
    slopes: Mapping[str, float]
    variable: Any

    @property
    def u(self) -> float:
        """Standard uncertainty, from the package, with every correlation."""
        return float(self.variable.std_dev)


@dataclass(frozen=True)
class Drawn:
    """A Monte Carlo propagation: value at the best inputs, and the ends of the central 95 % of the draws."""

    value: float
    low: float
    high: float
    u: float
    mean: float
    draws: int


class Noted(Mapping[str, FloatArray]):
    """The best values, one row, noting which inputs a model reads, in their order."""

    def __init__(self, inputs: Inputs) -> None:
        self._inputs = inputs
        self._read: dict[str, None] = {}

    def note(self, names: Iterable[str]) -> None:
        """These are read, too."""
        self._read |= dict.fromkeys(names)

    def __getitem__(self, name: str) -> FloatArray:
        self._read[name] = None
        return np.array([self._inputs[name].value])

    def __iter__(self) -> Iterator[str]:
        return iter(self._read)

    def __len__(self) -> int:
        return len(self._read)


class Steps(Mapping[str, FloatArray]):
    """The best values in 2 n rows, each of n uncertain inputs moved by its u: up in row i, down in row n + i.

    read: the inputs that the model reads. names: the n of them that are uncertain.
    """

    def __init__(self, inputs: Inputs, read: Sequence[str]) -> None:
        self.names = [name for name in read if inputs[name].u > 0]
        self.u = np.array([inputs[name].u for name in self.names])
        rows = 2 * len(self.names)
        self._columns = {name: np.full(rows, inputs[name].value, np.float64) for name in read}
        for row, name in enumerate(self.names):
            self._columns[name][row] += self.u[row]
            self._columns[name][len(self.names) + row] -= self.u[row]

    def __getitem__(self, name: str) -> FloatArray:
        return self._columns[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._columns)

    def __len__(self) -> int:
        return len(self._columns)


def inputs_of(model: Model, inputs: Inputs) -> tuple[float, tuple[str, ...]]:
    """The model's value at the best inputs, and the names of the inputs it reads."""
    noted = Noted(inputs)
    return float(model(noted)[0]), tuple(noted)


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
    value, read = inputs_of(model, inputs)
    steps = Steps(inputs, read)
    names = steps.names
    moved = model(steps) if names else np.zeros(0)
    half = wrapped(moved[: len(names)] - moved[len(names) :], period) / 2
    slopes = {name: float(half[i] / steps.u[i]) for i, name in enumerate(names)}
    variable = value + sum(slopes[name] * (inputs.variable(name) - inputs[name].value) for name in names)
    return FirstOrder(value, slopes, variable)


def holds(found: FirstOrder, model: Model, inputs: Inputs, *, period: float | None = None) -> bool:
    """Whether first order holds for this number, tried with a few draws.

    Source: the idea of JCGM 101:2008, clause 8 (Monte Carlo validates the GUM), with tolerances of
    this program's own: a tenth of u, and a quarter of u for the mean.
    """
    drawn = monte_carlo(model, inputs, period=period, draws=TRIAL_DRAWS)
    alike = abs(drawn.u - found.u) <= LARGEST_DIFFERENCE * found.u
    return alike and abs(drawn.mean - found.value) <= LARGEST_BIAS * found.u


def monte_carlo(
    model: Model, inputs: Inputs, *, period: float | None = None, draws: int = DRAWS, seed: int = SEED
) -> Drawn:
    """Propagate by drawing every input from its distribution; the same seed gives the same numbers.

    Inputs are taken as independent, as those of one survey are.
    Source: JCGM 101:2008, 7.2 to 7.7 (the probabilistically symmetric 95 % interval).
    """
    value, _ = inputs_of(model, inputs)
    centred = value + wrapped(model(inputs.draws(draws, seed)) - value, period)
    low, high = np.quantile(centred, (0.025, 0.975))
    return Drawn(value, float(low), float(high), float(np.std(centred)), float(np.mean(centred)), draws)
