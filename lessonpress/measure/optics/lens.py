"""A lens's bending solved from marks that lie on straight lines of the room (the plumb-line method).

Source: D. C. Brown, Close-range camera calibration, Photogrammetric Engineering 37 (1971): a straight line of
the room is straight in the picture of a lens that does not bend, so the coefficients are those that make the
undistorted marks lie on lines. That needs no scale and no focal length: what is solved is k1/f² and k2/f⁴.

k2 takes part with what is expected of it before any line is seen, so that lines determine it where they can
and the ± grows where they do not reach. It is solved inside every number's model, from the clicks themselves.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from weakref import WeakKeyDictionary

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.observations import Points
from lessonpress.measure.inputs.setting import ASSUMED_FOCAL, At, Setting
from lessonpress.measure.optics.bend import NO_BEND, Bend, bend_of
from lessonpress.measure.optics.line_fit import Fit, columns
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.quantities import BestValues, Draws, Quantities, Quantity
from lessonpress.measure.uncertainty.refusal import Refusal

K2_U = 0.03  # of k2 about 0 before any line is seen; common practice with camera lenses, no published source
MOST_U = 0.1  # of k1: lens coefficients lie within some 0.3, so that worse is as good as not known
FEWEST = 3  # marks of a line
MOST_KEPT = (
    1000  # rows of a batch whose solutions are kept: those of sensitivities, which all numbers ask for
)
DOUBT_Z = 3.0  # a line is doubted where clicks would miss it so far once in 700 lines
WAY_OUT = (
    "mark more points along lines that run near the picture's edges, or give k1, k2 and focal under lens"
)


@dataclass(frozen=True)
class SolvedBend:
    """What the lines say. lines, marks: how many.

    k1, u: first coefficient and its standard uncertainty, r in focal lengths of `focal` px (the card's, or
    assumed: `stated` is False). residual: r.m.s. distance in px of the marks as clicked from their lines.
    """

    k1: float
    u: float
    focal: float
    stated: bool
    lines: int
    marks: int
    residual: float


@dataclass(frozen=True)
class _Line:
    marks: tuple[At, ...]
    sigma: FloatArray  # px, of each mark

    @property
    def words(self) -> str:
        return ", ".join(at.mark for at in self.marks)


class LensLines:
    """The lens of one clip: as the card states it, or solved from the card's straight lines.

    refused: why the lines do not give the bending, or None. solved: what they give, or None without lines.
    warnings: lines that are not straight.
    """

    def __init__(
        self, setting: Setting, points: Points, quantities: Quantities, notes: dict[str, str]
    ) -> None:
        self.setting, self.points, self.quantities = setting, points, quantities
        self.warnings: list[str] = []
        self.refused: Refusal | None = None
        self.solved: SolvedBend | None = None
        self._stated = NO_BEND if setting.lens.straight else bend_of(setting.lens)
        self._lines = list(self._placed_lines())
        self._corner = math.hypot(*setting.size) / 2  # px, the unit of length while solving
        self._last: tuple[Values, Bend] | None = None
        self._drawn: WeakKeyDictionary[Draws, Bend] = WeakKeyDictionary()
        self._kept: dict[bytes, tuple[float, float]] = {}
        self._misfit: str | None = None
        if setting.lens.straight:
            self._prepare(notes)

    def bend(self, values: Values) -> Bend:
        """The bending for these inputs, one for each row; solved once for the same inputs."""
        if not self.setting.lens.straight or self.refused is not None:
            return self._stated
        if isinstance(values, Draws):
            if values not in self._drawn:
                self._drawn[values] = self._solve(values)
            return self._drawn[values]
        if self._last is None or self._last[0] is not values:
            self._last = values, self._solve(values)
        return self._last[1]

    @property
    def marks_at(self) -> set[At]:
        """The marks that the bending rests on, where they are placed."""
        return {at for line in self._lines for at in line.marks} if self.refused is None else set()

    # the lines

    def _placed_lines(self) -> Iterator[_Line]:
        for marks in self.setting.lens.straight:
            known = tuple(
                At(mark, min(self.points.by_mark[mark])) for mark in marks if mark in self.points.by_mark
            )
            if len(known) >= FEWEST:
                yield _Line(known, np.array([self._u(at) for at in known]))

    def _u(self, at: At) -> float:
        """Standard uncertainty of a mark's place, px for each axis; of the mean of several placings."""
        placings = self.points.observations_of(at)
        squares = [
            self.points.click_u(None if s.tracked else s.u) ** 2 + ((s.u or 0.0) ** 2 if s.tracked else 0.0)
            for s in placings
        ]
        return math.sqrt(sum(squares)) / len(placings)

    def _prepare(self, notes: dict[str, str]) -> None:
        lens, clip = self.setting.lens, self.setting.clip
        self._focal = lens.focal or ASSUMED_FOCAL * max(self.setting.size)
        self._k2 = self.quantities.add(
            Quantity(f"{clip}/lens/k2", "second coefficient of the lens, expected", 0.0, K2_U, "")
        )
        notes[self._k2] = f"k2 of the lens 0, u {K2_U}, before its straight lines are seen"
        self._fit = Fit(_filled_up([line.sigma / self._corner for line in self._lines]), K2_U * self._k2_unit)
        if not self._lines:
            self.refused = Refusal("the lens's straight lines have fewer than three placed marks", WAY_OUT)
            return
        with np.errstate(all="ignore"):
            self._judge()

    def _judge(self) -> None:
        best = BestValues(self.quantities)
        bend = self._solve(best)
        a, u = float(bend.a[0]), math.inf
        if math.isfinite(a):
            self._fit = replace(self._fit, start=(a * self._corner**2, float(bend.b[0]) * self._corner**4))
            u = first_order(lambda values: self._solve(values).a, self.quantities).u * self._focal**2
        if not u <= MOST_U:
            told = f": k1 would be good to ± {2 * u:.1f} only" if math.isfinite(u) else ""
            self.refused = Refusal(
                f"the straight lines on the card do not tell how the lens bends{told}", WAY_OUT
            )
            return
        off = self._missed(best, bend)
        widened = self._doubt(off)
        if widened:
            self._misfit = self.quantities.add(
                Quantity(
                    f"{self.setting.clip}/lens/misfit",
                    "misfit of the lens's straight lines",
                    0.0,
                    widened * u,
                    "",
                )
            )
        self.solved = SolvedBend(
            k1=a * self._focal**2,
            u=math.hypot(1.0, widened) * u,
            focal=self._focal,
            stated=self.setting.lens.focal is not None,
            lines=len(self._lines),
            marks=len({at for line in self._lines for at in line.marks}),
            residual=float(np.sqrt(np.mean(np.concatenate(off) ** 2))),
        )

    def _doubt(self, off: list[FloatArray]) -> float:
        """Warn of lines that are not straight; by how much of its u the bending is then less sure.

        The scatter beyond what clicks allow widens u as R. T. Birge, Physical Review 40 (1932): by the root
        of χ² over its degrees of freedom.
        """
        squares = [float(np.sum((d / line.sigma) ** 2)) for d, line in zip(off, self._lines, strict=True)]
        for d, line, square in zip(off, self._lines, squares, strict=True):
            if square > chi_square_limit(len(d) - 2):
                self.warnings.append(
                    f"{line.words} do not lie on one straight line: they miss it by up to "
                    f"{np.abs(d).max():.1f} px, more than clicks do; one is misplaced, or it is not straight"
                )
        free = max(sum(len(d) - 2 for d in off) - 1, 1)
        if not self.warnings and sum(squares) <= chi_square_limit(free):
            return 0.0
        return math.sqrt(max(sum(squares) / free - 1, 0.0))

    # the solution

    @property
    def _k2_unit(self) -> float:
        """From k2, r in focal lengths, to b in the unit of solving."""
        return (self._corner / self._focal) ** 4

    def _solve(self, values: Values) -> Bend:
        x, y = self._seen(values)
        expected = values[self._k2] * self._k2_unit + np.zeros(x.shape[2])
        found = (
            self._fit.solved(x, y, expected) if x.shape[2] > MOST_KEPT else self._looked_up(x, y, expected)
        )
        misfit = values[self._misfit] / self._focal**2 if self._misfit else 0.0
        return Bend(found.a / self._corner**2 + misfit, found.b / self._corner**4)

    def _looked_up(self, x: FloatArray, y: FloatArray, expected: FloatArray) -> Bend:
        """The same, each different row being solved once for all numbers of the clip."""
        count = len(expected)
        rows = np.concatenate([x.reshape(-1, count), y.reshape(-1, count), expected[None]]).T
        keys = [row.tobytes() for row in rows]
        new = list({key: at for at, key in enumerate(keys) if key not in self._kept}.values())
        if new:
            found = self._fit.solved(x[..., new], y[..., new], expected[new])
            self._kept.update(zip((keys[at] for at in new), zip(found.a, found.b, strict=True), strict=True))
        a, b = np.array([self._kept[key] for key in keys]).T
        return Bend(a, b)

    def _seen(self, values: Values) -> tuple[FloatArray, FloatArray]:
        """The marks' offsets as the lens shows them, in units of the picture's half diagonal.

        Shape (lines, marks, n); a line of fewer marks is filled up with its first one, which has no weight.
        """
        pairs = {at: self.points.shown_offset(at, values) for line in self._lines for at in line.marks}
        x, y = (
            np.stack([np.stack([pairs[at][axis] for at in line]) for line in self._filled]) / self._corner
            for axis in (0, 1)
        )
        return x, y

    @property
    def _filled(self) -> list[tuple[At, ...]]:
        longest = max(len(line.marks) for line in self._lines)
        return [line.marks + line.marks[:1] * (longest - len(line.marks)) for line in self._lines]

    def _missed(self, values: Values, bend: Bend) -> list[FloatArray]:
        """Distance in px of each mark as clicked from its line, one row for each line."""
        scaled = Bend(bend.a * self._corner**2, bend.b * self._corner**4)
        off = columns(scaled, *self._seen(values), self._fit.sigma)[2]
        return [row[: len(line.marks), 0] * line.sigma for row, line in zip(off, self._lines, strict=True)]


def _filled_up(rows: list[FloatArray]) -> FloatArray:
    """Standard uncertainties, shape (lines, marks, 1); inf where a line has no more marks."""
    filled = np.full((len(rows), max(map(len, rows), default=0), 1), np.inf)
    for line, row in zip(filled, rows, strict=True):
        line[: len(row), 0] = row
    return filled


def chi_square_limit(free: int) -> float:
    """What a sum of so many squared standard errors passes once in 700 times.

    Source: E. B. Wilson and M. M. Hilferty, PNAS 17 (1931): (χ²/ν)^⅓ is normal about 1 − 2/9ν, variance 2/9ν.
    """
    part = 2 / (9 * free)
    return float(free * (1 - part + DOUBT_Z * math.sqrt(part)) ** 3)
