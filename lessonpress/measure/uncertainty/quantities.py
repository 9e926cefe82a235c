"""The inputs of a clip's numbers: each has one identity, so that a common error is common to all."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal

import numpy as np
from uncertainties import Variable

from lessonpress.measure.formulas.arrays import FloatArray

Distribution = Literal["normal", "rectangular"]


@dataclass(frozen=True)
class Quantity:
    """One uncertain input, the same as any other of its name. A model asks for its values by it.

    name: CLIP/ABOUT/…, its parts as `parts`. words: how the budget calls it. u: standard uncertainty. lowest:
    no draw goes below it (a camera cannot be inside the golfer); None for no such bound. assumption: what is
    taken for granted where a number rests on it, "" where nothing is. least: a u below which no better
    picture brings it.
    """

    name: str
    words: str = field(compare=False)
    value: float = field(compare=False)
    u: float = field(compare=False)
    unit: str = field(compare=False)
    distribution: Distribution = field(default="normal", compare=False)
    lowest: float | None = field(default=None, compare=False)
    assumption: str = field(default="", compare=False)
    least: float = field(default=0.0, compare=False)

    @cached_property
    def parts(self) -> tuple[str, ...]:
        """Its name taken apart: the clip, what it is about, and which of those."""
        return tuple(self.name.split("/"))

    @property
    def clip(self) -> str:
        return self.parts[0]

    @property
    def about(self) -> str:
        """The second part of its name: roll, click, depth, distance."""
        return self.parts[1]

    @property
    def last(self) -> str:
        return self.parts[-1]

    def drawn(self, generator: np.random.Generator, draws: int) -> FloatArray:
        """Random values, shape (draws,), of this quantity's distribution (JCGM 101:2008, 6.4)."""
        if self.distribution == "rectangular":
            half = self.u * math.sqrt(3)
            return generator.uniform(self.value - half, self.value + half, draws)
        values = generator.normal(self.value, self.u, draws)
        return values if self.lowest is None else np.maximum(values, self.lowest)


def limited(name: str, words: str, value: float, within: float, unit: str, assumption: str = "") -> Quantity:
    """A quantity stated with limits: rectangular, u = a/√3 (JCGM 100:2008, 4.3.7, equation 7)."""
    u = within / math.sqrt(3)
    return Quantity(name, words, value, u, unit, "rectangular", assumption=assumption)


class Draws(Mapping[Quantity, FloatArray]):
    """Drawn values of inputs, made when first asked for and then kept.

    An input's draws depend on its name and the seed alone, so that two numbers see the same draws of what
    they share, in whatever order they are computed.
    """

    def __init__(self, count: int, seed: int) -> None:
        self.count, self.seed = count, seed
        self._drawn: dict[Quantity, FloatArray] = {}

    def __getitem__(self, quantity: Quantity) -> FloatArray:
        if quantity not in self._drawn:
            generator = np.random.default_rng([self.seed, *quantity.name.encode()])
            self._drawn[quantity] = quantity.drawn(generator, self.count)
        return self._drawn[quantity]

    __hash__ = object.__hash__

    def __eq__(self, other: object) -> bool:
        return self is other

    def __iter__(self) -> Iterator[Quantity]:
        return iter(self._drawn)

    def __len__(self) -> int:
        return len(self._drawn)


class SharedInputs:
    """What all numbers of a clip have in common: one variable for each input, and the same draws of it.

    Both are made when first asked for; nothing is put in from outside.
    """

    def __init__(self) -> None:
        self._variables: dict[Quantity, Any] = {}
        self._draws: dict[tuple[int, int], Draws] = {}

    def __contains__(self, quantity: Quantity) -> bool:
        return quantity in self._variables

    def variable(self, quantity: Quantity) -> Any:
        """The one `uncertainties.Variable` of this input."""
        if quantity not in self._variables:
            self._variables[quantity] = Variable(quantity.value, quantity.u, tag=quantity.name)
        return self._variables[quantity]

    def draws(self, count: int, seed: int) -> Draws:
        """Drawn values, the same object for the same count and seed."""
        return self._draws.setdefault((count, seed), Draws(count, seed))


class BestValues(dict[Quantity, FloatArray]):
    """The best value of every input, one row."""

    def __missing__(self, quantity: Quantity) -> FloatArray:
        return np.array([quantity.value])
