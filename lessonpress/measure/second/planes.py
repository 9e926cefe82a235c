"""How the two subject planes lie to each other: by the marks' own depths at one instant that both clips show.

The table of postures knows the depth of a foot to an inch or two, and the mean over all marks of an instant
to less. That mean is all that is taken from it: an error of it moves every depth alike, which no angle
notices and a length only by so many hundredths. Marks of the room are not used. A stick is seldom at one
place for both cameras, and nothing on the cards says that it was.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.second.rays import Planes, apart
from lessonpress.measure.uncertainty.quantities import Quantity

TURN_U = 3.0  # deg: how square two cameras stand to each other (own choice, a step aside at four metres)


@dataclass(frozen=True)
class Anchor:
    """A mark whose depth both tables know. Weights of its word for the two offsets, summing to 1 each."""

    at: At
    across: float
    along: float


def weighed(known: Mapping[At, tuple[float, float]]) -> tuple[Anchor, ...]:
    """Anchors by the u of their depths face-on and down the line, m, each weighed by 1/u²."""
    faced, along = (sum(u[way] ** -2 for u in known.values()) for way in (0, 1))
    return tuple(Anchor(at, u[0] ** -2 / faced, u[1] ** -2 / along) for at, u in known.items())


def laid(
    anchors: tuple[Anchor, ...],
    known: Sequence[tuple[Pair, Pair]],
    turn: FloatArray,
    d: FloatArray,
    e: FloatArray,
) -> Planes:
    """The weighted means of what each anchor says.

    known: of each anchor its level place and its depth, face-on and down the line, m. d, e: the cameras'
    distances, m.
    """
    each = [apart(*one, d, e, turn) for one in known]
    across = sum(anchor.across * one.across for anchor, one in zip(anchors, each, strict=True))
    along = sum(anchor.along * one.along for anchor, one in zip(anchors, each, strict=True))
    return Planes(turn, np.asarray(across), np.asarray(along))


def turned(joint: str, one: str, other: str) -> Quantity:
    """The input for how far from a right angle the two cameras look at each other, rad.

    joint: how the names of the inputs begin that join the two clips.
    """
    words = f"how square {one} and {other} were filmed to each other"
    assumption = f"the two views square to each other, u {TURN_U:.0f}°"
    u = math.radians(TURN_U)
    return Quantity(f"{joint}/turn", words, 0.0, u, "rad", assumption=assumption)
