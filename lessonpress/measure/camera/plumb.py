"""Plumb lines: what hangs or stands upright in the room, and how the camera is turned until they do."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from lessonpress.measure.camera.pinhole import Attitude, lean
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import At, Setting
from lessonpress.measure.optics.lens import Optics
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity

TRUE_U = 0.3  # deg: how upright things are that hang or stand upright
MOST_LEAN = 45.0  # deg in the picture: no camera is held so far askew, the pair lies rather than hangs
SHORTEST = 10.0  # a line must be this many times a click's error long
STEP = 1e-4  # rad, for the slopes of the leans
MOST_NOD = math.radians(10)  # of one step of the pitch
Ends = list[tuple[FloatArray, FloatArray, FloatArray, FloatArray]]


@dataclass(frozen=True)
class PlumbLine:
    """A pair of marks that hangs or stands upright, lower end first.

    weight: 1/u² of its lean, rad⁻². true: the input for how true it is.
    """

    lower: At
    upper: At
    weight: float
    true: Quantity


class PlumbLines:
    """The plumb lines of a clip that its pictures show. warnings: pairs that cannot be plumb lines."""

    def __init__(self, setting: Setting, optics: Optics) -> None:
        self.setting, self.optics, self.observations = setting, optics, optics.observations
        pairs = () if setting.view == "overhead" else self._pairs()
        tried = [self._line(*pair) for pair in pairs]
        self.lines = tuple(line for line in tried if isinstance(line, PlumbLine))
        self.warnings = tuple(warning for warning in tried if isinstance(warning, str))

    def __len__(self) -> int:
        return len(self.lines)

    @property
    def marks_at(self) -> set[At]:
        """The ends of all lines, where they are placed."""
        return {end for line in self.lines for end in (line.lower, line.upper)}

    def _pairs(self) -> Iterator[tuple[str, str]]:
        for first, second in dict.fromkeys(tuple(sorted(pair)) for pair in self.setting.plumb):
            if self.observations.known(first) and self.observations.known(second):
                yield first, second

    def _line(self, first: str, second: str) -> PlumbLine | str:
        """The line of a pair, or the warning why it is none."""
        seen = self.observations
        ends = [At(mark, min(seen.by_mark[mark])) for mark in (first, second)]
        lower, upper = sorted(ends, key=lambda end: -seen.best(end)[1])
        (x0, y0), (x1, y1) = seen.best(lower), seen.best(upper)
        length, click = math.hypot(x1 - x0, y1 - y0), seen.click_u(None)
        if length < SHORTEST * click:
            return f"{first} and {second} are too close together for a plumb line: left out"
        if abs(math.degrees(math.atan2(x1 - x0, y0 - y1))) > MOST_LEAN:
            return f"{first} to {second} lies rather than hangs, no plumb line: left out"
        u = math.hypot(math.radians(TRUE_U), math.sqrt(2) * click / length)
        return PlumbLine(lower, upper, u**-2, self._true(first, second))

    def _true(self, first: str, second: str) -> Quantity:
        name = f"{self.setting.clip}/true/{first}/{second}"
        words = f"how upright {first} to {second} is"
        return Quantity(name, words, 0.0, math.radians(TRUE_U), "rad")

    def ends(self, values: Values) -> Ends:
        """The offsets of every line's ends, px right and up of the centre: lower, then upper."""
        return [
            (*self.optics.offset(line.lower, values), *self.optics.offset(line.upper, values))
            for line in self.lines
        ]

    def levelled(self, attitude: Attitude, ends: Ends, values: Values, pitch_solved: bool) -> Attitude:
        """One step toward the roll (and pitch) under which every line leans as its trueness says.

        Least squares over the lines, each weighed by what its clicks and its trueness are worth.
        """
        weights = np.array([line.weight for line in self.lines])
        missing = np.stack([values[line.true] for line in self.lines]) - _leans(attitude, ends)
        if not pitch_solved:
            return replace(attitude, roll=attitude.roll + np.average(missing, axis=0, weights=weights))
        nodded = replace(attitude, pitch=attitude.pitch + STEP)
        by_pitch = (_leans(nodded, ends) - _leans(attitude, ends)) / STEP
        roll, pitch = _weighted_step(np.ones_like(missing), by_pitch, missing, weights)
        nod = np.clip(pitch, -MOST_NOD, MOST_NOD)
        return replace(attitude, roll=attitude.roll + roll, pitch=attitude.pitch + nod)


def _leans(attitude: Attitude, ends: Ends) -> FloatArray:
    """Lean of every plumb line in the levelled picture, rad, shape (lines, n)."""
    return np.stack([lean(attitude.levelled(a, b), attitude.levelled(c, d)) for a, b, c, d in ends])


def _weighted_step(
    a: FloatArray, b: FloatArray, r: FloatArray, weights: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Least-squares solution of a x + b y = r for every column, by the 2 × 2 normal equations."""
    w = weights[:, None]
    aa, ab, bb = (w * a * a).sum(0), (w * a * b).sum(0), (w * b * b).sum(0)
    ar, br = (w * a * r).sum(0), (w * b * r).sum(0)
    determinant = aa * bb - ab * ab
    determinant = np.where(np.abs(determinant) < 1e-12 * aa * aa, np.nan, determinant)
    return (bb * ar - ab * br) / determinant, (aa * br - ab * ar) / determinant
