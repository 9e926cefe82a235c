"""A number with its unit, uncertainty and plane as the lesson prints it: a row of the ledger."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

# What kind of number it is; units for print are chosen from it and from the site's `units`.
Dimension = Literal["length", "angle", "clock", "speed", "ratio", "percent"]
Axis = Literal["level", "plumb", "straight"]


@dataclass(frozen=True)
class Share:
    """One input of a number and the part of the variance it brings.

    words: "click on navel, frame 192, across". value and u in `unit`; share in 0..1 of the variance.
    """

    words: str
    value: float
    u: float
    unit: str
    share: float
    distribution: Literal["normal", "rectangular"] = "normal"


@dataclass(frozen=True)
class Budget:
    """How a number came about: the formula in words and symbols, the same with numbers put in, inputs.

    shares are sorted, largest first. method: "first order (JCGM 100)" or "Monte Carlo (JCGM 101), …".
    worked_otherwise: worked, in the other units. sources: what depths come from and the part of the variance
    that each brings, in 0..1, largest first. depths: each mark's depth in words, as seen by a second view.
    """

    formula: str
    worked: str
    shares: tuple[Share, ...]
    method: str
    worked_otherwise: str = ""
    sources: tuple[tuple[str, float], ...] = ()
    depths: tuple[str, ...] = ()


@dataclass(frozen=True)
class Narrower:
    """What would narrow a number, in an author's words, and its expanded uncertainty then."""

    words: str
    uncertainty: float


@dataclass(frozen=True)
class Measure:
    """One row of the ledger, in the units it is printed in. See formats.md, "What comes out".

    value: signed and unrounded; uncertainty: expanded (k = 2), or half of low..high after a Monte Carlo
    propagation, where k is None. Both are None where the measure was refused. unit: "in", "cm", "deg",
    "mph", "m/s", "%" or None. way: the sign in words ("away from the target"), "" where there is none.
    """

    id: str
    kind: str
    dimension: Dimension
    figure: str
    letter: str
    clips: tuple[str, ...]
    value: float | None
    uncertainty: float | None
    k: float | None
    low: float | None
    high: float | None
    unit: str | None
    axis: Axis | None
    way: str
    plane: str
    frames: tuple[int, ...]
    since: str | None
    marks: tuple[str, ...]
    assumed: tuple[str, ...]
    expect: str | None
    answer: str | None
    refused: str | None
    way_out: str | None
    words: str  # "shift of the navel since setup": the measure's name in the ledger and keys
    budget: Budget | None
    refused_otherwise: str = ""  # why it was refused, in the other units
    narrower: tuple[Narrower, ...] = ()  # what would narrow it, most first; uncertainties in `unit`
    turned: Measure | None = None  # the same of the picture turned about, where that is another number
