"""A measured number: in m, m/s, degrees, % or a ratio, with the interval and the budget it rests on."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

from lessonpress.measure.propagation import Inputs, Model
from lessonpress.records.measure import Axis, Budget, Dimension


@dataclass(frozen=True)
class Measured:
    """One number of a survey.

    value: signed, in m, m/s, deg, % or none by `dimension`; a clock direction in deg clockwise from 12.
    uncertainty: expanded, same unit. k: 2 after first-order propagation; None after Monte Carlo, where low
    and high bound 95 % and uncertainty is half their distance. way: the sign in words, or "".
    variable: an `uncertainties` number that shares its inputs with every other measure of the survey.
    model, inputs, period: how it was computed, so that a difference of two can be propagated as one number.
    """

    value: float
    dimension: Dimension
    uncertainty: float
    k: float | None
    low: float
    high: float
    axis: Axis | None
    way: str
    plane: str
    frames: tuple[int, ...]
    marks: tuple[str, ...]
    assumed: tuple[str, ...]
    budget: Budget
    clips: tuple[str, ...] = ()
    goal: Literal["target", "ball"] = "target"
    variable: Any = field(default=None, compare=False, repr=False)
    model: Model | None = field(default=None, compare=False, repr=False)
    inputs: Inputs | None = field(default=None, compare=False, repr=False)
    period: float | None = field(default=None, compare=False, repr=False)

    @property
    def u(self) -> float:
        """Standard uncertainty, taken as half of the expanded one."""
        return self.uncertainty / 2
