"""The inputs of a clip's numbers: each has one identity, so that a common error is common to all."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from uncertainties import Variable

from lessonpress.measure.formulas.arrays import FloatArray

Distribution = Literal["normal", "rectangular"]


@dataclass(frozen=True)
class Quantity:
    """One uncertain input. name: its identity; words: how the budget calls it; u: standard uncertainty.

    lowest: no draw goes below it (a camera cannot be inside the golfer); None for no such bound.
    """

    name: str
    words: str
    value: float
    u: float
    unit: str
    distribution: Distribution = "normal"
    lowest: float | None = None

    def drawn(self, generator: np.random.Generator, draws: int) -> FloatArray:
        """Random values, shape (draws,), of this quantity's distribution (JCGM 101:2008, 6.4)."""
        if self.distribution == "rectangular":
            half = self.u * math.sqrt(3)
            return generator.uniform(self.value - half, self.value + half, draws)
        values = generator.normal(self.value, self.u, draws)
        return values if self.lowest is None else np.maximum(values, self.lowest)


def limited(name: str, words: str, value: float, within: float, unit: str) -> Quantity:
    """A quantity stated with limits: rectangular, u = a/√3 (JCGM 100:2008, 4.3.7, equation 7)."""
    return Quantity(name, words, value, within / math.sqrt(3), unit, "rectangular")


class Draws(Mapping[str, FloatArray]):
    """Drawn values of inputs, made when first asked for and then kept.

    An input's draws depend on its name and the seed alone, so that two numbers see the same draws of what
    they share, in whatever order they are computed.
    """

    def __init__(self, quantities: Mapping[str, Quantity], count: int, seed: int) -> None:
        self.quantities, self.count, self.seed = quantities, count, seed
        self._drawn: dict[str, FloatArray] = {}

    def __getitem__(self, name: str) -> FloatArray:
        if name not in self._drawn:
            generator = np.random.default_rng([self.seed, *name.encode()])
            self._drawn[name] = self.quantities[name].drawn(generator, self.count)
        return self._drawn[name]

    __hash__ = object.__hash__

    def __eq__(self, other: object) -> bool:
        return self is other

    def __iter__(self) -> Iterator[str]:
        return iter(self._drawn)

    def __len__(self) -> int:
        return len(self._drawn)


class Quantities(Mapping[str, Quantity]):
    """A survey's inputs by name, and one `uncertainties` variable for each, shared by all measures.

    Two quantities of one name must be the same: the first stays.
    """

    def __init__(self, quantities: Iterable[Quantity] = ()) -> None:
        self._quantities: dict[str, Quantity] = {}
        self._variables: dict[str, Any] = {}
        self._draws: dict[tuple[int, int], Draws] = {}
        for quantity in quantities:
            self.add(quantity)

    def add(self, quantity: Quantity) -> str:
        """Take the quantity in and return its name."""
        self._quantities.setdefault(quantity.name, quantity)
        return quantity.name

    def variable(self, name: str) -> Any:
        """The one `uncertainties.Variable` of this input."""
        if name not in self._variables:
            quantity = self._quantities[name]
            self._variables[name] = Variable(quantity.value, quantity.u, tag=name)
        return self._variables[name]

    def draws(self, count: int, seed: int) -> Draws:
        """Drawn values of these inputs, the same object for the same count and seed."""
        return self._draws.setdefault((count, seed), Draws(self, count, seed))

    def __getitem__(self, name: str) -> Quantity:
        return self._quantities[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._quantities)

    def __len__(self) -> int:
        return len(self._quantities)


class BestValues(dict[str, FloatArray]):
    """The best value of every input, one row."""

    def __init__(self, quantities: Quantities) -> None:
        super().__init__()
        self._quantities = quantities

    def __missing__(self, name: str) -> FloatArray:
        return np.array([self._quantities[name].value])
