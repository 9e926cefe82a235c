"""Marks that lie on straight lines of the room, and the lens's bending as a function of where they were seen.

Source: D. C. Brown, Close-range camera calibration, Photogrammetric Engineering 37 (1971): a straight line of
the room is straight in the picture of a lens that does not bend, so the coefficients are those that make the
undistorted marks lie on lines. That needs no scale and no focal length: what is solved is k1/f² and k2/f⁴.

k2 takes part with what is expected of it before any line is seen, so that lines determine it where they can
and the ± grows where they do not reach. It is solved inside every number's model, from the clicks themselves.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.observations import Observations
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.optics.bend import Bend
from lessonpress.measure.optics.line_fit import Fit, columns
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity

FEWEST = 3  # marks of a line
MOST_KEPT = (
    1000  # rows of a batch whose solutions are kept: those of sensitivities, which all numbers ask for
)


@dataclass(frozen=True)
class Line:
    """The placed marks of one straight line of the room. sigma: u of each in px, of each axis."""

    marks: tuple[At, ...]
    sigma: FloatArray

    @property
    def words(self) -> str:
        return ", ".join(at.mark for at in self.marks)


def lines_of(observations: Observations) -> tuple[Line, ...]:
    """The card's straight lines, as far as their marks are placed; those of fewer than three are left out."""
    return tuple(_placed_lines(observations))


def _placed_lines(observations: Observations) -> Iterator[Line]:
    for marks in observations.setting.lens.straight:
        known = tuple(
            At(mark, min(observations.by_mark[mark])) for mark in marks if mark in observations.by_mark
        )
        if len(known) >= FEWEST:
            yield Line(known, np.array([_u(observations, at) for at in known]))


def _u(observations: Observations, at: At) -> float:
    """Standard uncertainty of a mark's place, px for each axis; of the mean of several placings."""
    placings = observations.observations_of(at)
    squares = [
        observations.click_u(None if seen.tracked else seen.u) ** 2
        + ((seen.u or 0.0) ** 2 if seen.tracked else 0.0)
        for seen in placings
    ]
    return math.sqrt(sum(squares)) / len(placings)


@dataclass(frozen=True)
class BendFromLines:
    """The bending as a function of the clicks on the lines, of k2 as expected, and of how badly lines fit.

    focal: px, in whose lengths k1 and k2 are. misfit: of k1, None where the lines fit as well as clicks let
    them. solutions: rows solved already, by their inputs.
    """

    observations: Observations
    lines: tuple[Line, ...]
    fit: Fit
    focal: float
    k2: Quantity
    misfit: Quantity | None = None
    solutions: dict[bytes, tuple[float, float]] = field(default_factory=dict, compare=False, repr=False)

    @property
    def corner(self) -> float:
        """Half of the picture's diagonal in px, the unit of length while solving."""
        return corner_of(self.observations)

    @property
    def marks_at(self) -> set[At]:
        """The marks of all lines, where they are placed."""
        return {at for line in self.lines for at in line.marks}

    def bend(self, values: Values) -> Bend:
        """The bending for each row of the inputs; nan where the lines do not settle it."""
        x, y = self._seen(values)
        expected = values[self.k2] * k2_unit(self.corner, self.focal) + np.zeros(x.shape[2])
        solve = self.fit.solved if x.shape[2] > MOST_KEPT else self._looked_up
        solution = solve(x, y, expected)
        misfit = values[self.misfit] / self.focal**2 if self.misfit else 0.0
        return Bend(solution.a / self.corner**2 + misfit, solution.b / self.corner**4)

    def _looked_up(self, x: FloatArray, y: FloatArray, expected: FloatArray) -> Bend:
        """Like `Fit.solved`, each different row being solved once for all numbers of the clip."""
        count = len(expected)
        rows = np.concatenate([x.reshape(-1, count), y.reshape(-1, count), expected[None]]).T
        keys = [row.tobytes() for row in rows]
        new = list({key: at for at, key in enumerate(keys) if key not in self.solutions}.values())
        if new:
            solved = self.fit.solved(x[..., new], y[..., new], expected[new])
            pairs = zip(solved.a, solved.b, strict=True)
            self.solutions.update(zip((keys[at] for at in new), pairs, strict=True))
        a, b = np.array([self.solutions[key] for key in keys]).T
        return Bend(a, b)

    def _seen(self, values: Values) -> tuple[FloatArray, FloatArray]:
        """The marks' offsets as the lens shows them, in units of the picture's half diagonal.

        Shape (lines, marks, n); a line of fewer marks is filled up with its first one, which has no weight.
        """
        pairs = {at: self.observations.shown_mean(at, values) for line in self.lines for at in line.marks}
        x, y = (
            np.stack([np.stack([pairs[at][axis] for at in line]) for line in self._filled]) / self.corner
            for axis in (0, 1)
        )
        return x, y

    @property
    def _filled(self) -> list[tuple[At, ...]]:
        longest = max(len(line.marks) for line in self.lines)
        return [line.marks + line.marks[:1] * (longest - len(line.marks)) for line in self.lines]

    def missed(self, values: Values, bend: Bend) -> list[FloatArray]:
        """Distance in px of each mark as clicked from its line, one row for each line."""
        scaled = Bend(bend.a * self.corner**2, bend.b * self.corner**4)
        off = columns(scaled, *self._seen(values), self.fit.sigma)[2]
        return [row[: len(line.marks), 0] * line.sigma for row, line in zip(off, self.lines, strict=True)]


def corner_of(observations: Observations) -> float:
    """Half of the picture's diagonal, px."""
    return math.hypot(*observations.setting.size) / 2


def k2_unit(corner: float, focal: float) -> float:
    """From k2, r in focal lengths, to b in the unit of solving."""
    return (corner / focal) ** 4


def filled_up(lines: tuple[Line, ...], corner: float) -> FloatArray:
    """The marks' u in half diagonals, shape (lines, marks, 1); inf where a line has no more marks."""
    longest = max((len(line.marks) for line in lines), default=0)
    filled = np.full((len(lines), longest, 1), np.inf)
    for row, line in zip(filled, lines, strict=True):
        row[: len(line.marks), 0] = line.sigma / corner
    return filled
