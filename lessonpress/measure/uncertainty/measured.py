"""A measured number: in m, m/s, degrees, % or a ratio, with the interval and the budget it rests on."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

from lessonpress.measure.uncertainty.propagation import Inputs, Model
from lessonpress.records import Axis, Budget, Dimension, Narrower


@dataclass(frozen=True)
class Measured:
    """One number of a survey.

    value: signed, in m, m/s, deg, % or none by `dimension`; a clock direction in deg clockwise from 12.
    uncertainty: expanded, same unit. k: 2 after first-order propagation; None after Monte Carlo, where low
    and high bound 95 % and uncertainty is half their distance. way: the sign in words, or "".
    variable: an `uncertainties` number that shares its inputs with every other measure of the survey.
    narrower: what would narrow it, most first, ± in the number's own unit.
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
    narrower: tuple[Narrower, ...] = ()
    variable: Any = field(default=None, compare=False, repr=False)
    model: Model | None = field(default=None, compare=False, repr=False)
    inputs: Inputs | None = field(default=None, compare=False, repr=False)
    period: float | None = field(default=None, compare=False, repr=False)

    @property
    def u(self) -> float:
        """Standard uncertainty, taken as half of the expanded one."""
        return self.uncertainty / 2


# the whole range of a number, in its inner unit: inside angles run from 0° to 180°, tilts from −90° to 90°,
# directions once round, a share from 0 % to 100 %. Speeds and ratios have no end of their own.
WHOLE: dict[Dimension, float] = {"angle": 180.0, "clock": 360.0, "percent": 100.0}


def says_nothing(measured: Measured, picture: float | None) -> bool:
    """Whether the interval low..high is at least as wide as the whole range.

    picture: the longer side of the picture on the subject plane, m, which is the whole range of a length: all
    that is marked lies in it. None where lengths have no scale.
    """
    whole = picture if measured.dimension == "length" else WHOLE.get(measured.dimension)
    return whole is not None and measured.high - measured.low >= whole


def largest_part(measured: Measured) -> tuple[str, float] | None:
    """The input that brings most of the ± and its share of the variance in 0..1; None without any."""
    first = next(iter(measured.budget.shares), None)
    return None if first is None else (first.words, first.share)
