"""A lens's bending solved from marks that lie on straight lines of the room (the plumb-line method).

Source: D. C. Brown, Close-range camera calibration, Photogrammetric Engineering 37 (1971): a straight line of
the room is straight in the picture of a lens that does not bend, so the coefficients are those that make the
undistorted marks lie on lines. That needs no scale and no focal length: what is solved is k1/f² and k2/f⁴.

The distances are those in the picture as clicked, to first order (P. D. Sampson, Computer Graphics and Image
Processing 18 (1982)): measured in the undistorted picture, a lens that shrinks everything would fit best. k2
takes part with what is expected of it before any line is seen, so that lines determine it where they can and
the ± grows where they do not reach.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from weakref import WeakKeyDictionary

import numpy as np

from lessonpress.measure.lens import NO_BEND, Bend, bend_of, slope, undistorted
from lessonpress.measure.points import Points
from lessonpress.measure.propagation import Values, first_order
from lessonpress.measure.quantities import BestValues, Draws, FloatArray, Quantities, Quantity
from lessonpress.measure.refusal import Refusal
from lessonpress.measure.setting import ASSUMED_FOCAL, At, Setting

K2_U = 0.03  # of k2 about 0 before any line is seen; common practice with camera lenses, no published source
MOST_U = 0.1  # of k1: lens coefficients lie within some 0.3, so that worse is as good as not known
FEWEST = 3  # marks of a line
ROUNDS = 40
LONGEST_STEP = 0.2  # of the bending at the picture's corner, in one round
SETTLED = 1e-10  # of the bending at the picture's corner
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
    sigma: FloatArray  # px, of each mark, shape (marks, 1)

    @property
    def words(self) -> str:
        return ", ".join(at.mark for at in self.marks)


class LensLines:
    """The lens of one clip: as the card states it, or solved from the card's straight lines.

    refused: why the lines do not tell the bending, or None. solved: what they tell, or None without lines.
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
        self._start: tuple[float, float] = (0.0, 0.0)
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
                yield _Line(known, np.array([[self._u(at)] for at in known]))

    def _u(self, at: At) -> float:
        """Standard uncertainty of a mark's place, px for each axis; of the mean of several placings."""
        placings = self.points.sightings_of(at)
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
        if not self._lines:
            self.refused = Refusal("the lens's straight lines have fewer than three placed marks", WAY_OUT)
            return
        with np.errstate(all="ignore"):
            self._judge()

    def _judge(self) -> None:
        best = BestValues(self.quantities)
        bend = self._solve(best)
        self._start = float(bend.a[0]), float(bend.b[0])
        if math.isfinite(self._start[0]):
            found = first_order(lambda values: self._solve(values).a, self.quantities)
            u = found.u * self._focal**2
        if not math.isfinite(self._start[0]) or not u <= MOST_U:
            told = f": k1 would be good to ± {2 * u:.1f} only" if math.isfinite(self._start[0]) else ""
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
            k1=float(bend.a[0]) * self._focal**2,
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
        squares = [
            float(np.sum((d / line.sigma[:, 0]) ** 2)) for d, line in zip(off, self._lines, strict=True)
        ]
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

    def _solve(self, values: Values) -> Bend:
        """Gauss–Newton over a and b for every row, the lines being laid anew through the marks each round.

        Lines are eliminated by projection (L. Kaufman, BIT 15 (1975)): what a line's own offset and direction
        can take up of a column is taken off it. Rows that do not settle are nan.
        """
        unit = self._corner
        seen = [self._seen(line, values) for line in self._lines]
        expected = values[self._k2] * (unit / self._focal) ** 4
        spread = K2_U * (unit / self._focal) ** 4
        a = np.full(seen[0][0].shape[1], self._start[0] * unit**2)
        b = np.full_like(a, self._start[1] * unit**4)
        step = np.full_like(a, np.inf)
        for _ in range(ROUNDS):
            bend = Bend(a, b)
            aa = ab = ar = np.zeros_like(a)
            bb, br = aa + spread**-2, (b - expected) / spread**2
            for (x, y), line in zip(seen, self._lines, strict=True):
                by_a, by_b, off = _columns(bend, x, y, line.sigma / unit)
                aa, ab, bb = aa + (by_a**2).sum(0), ab + (by_a * by_b).sum(0), bb + (by_b**2).sum(0)
                ar, br = ar + (by_a * off).sum(0), br + (by_b * off).sum(0)
            determinant = aa * bb - ab**2
            step = np.clip(-(bb * ar - ab * br) / determinant, -LONGEST_STEP, LONGEST_STEP)
            other = np.clip(-(aa * br - ab * ar) / determinant, -LONGEST_STEP, LONGEST_STEP)
            a, b = a + step, b + other
            step = np.maximum(np.abs(step), np.abs(other))
            if not np.any(step > SETTLED):
                break
        lost = np.where(step <= 1e4 * SETTLED, 0.0, np.nan)
        misfit = values[self._misfit] / self._focal**2 if self._misfit else 0.0
        return Bend(a / unit**2 + misfit + lost, b / unit**4 + lost)

    def _seen(self, line: _Line, values: Values) -> tuple[FloatArray, FloatArray]:
        """The marks' offsets as the lens shows them, in units of the picture's half diagonal, (marks, n)."""
        pairs = [self.points.shown_offset(at, values) for at in line.marks]
        x, y = (np.stack([pair[axis] for pair in pairs]) / self._corner for axis in (0, 1))
        return x, y

    def _missed(self, values: Values, bend: Bend) -> list[FloatArray]:
        """Distance in px of each mark as clicked from its line, one row for each line."""
        unit = self._corner
        scaled = Bend(bend.a * unit**2, bend.b * unit**4)
        offs = (_columns(scaled, *self._seen(line, values), line.sigma / unit)[2] for line in self._lines)
        return [off[:, 0] * line.sigma[:, 0] for off, line in zip(offs, self._lines, strict=True)]


def _columns(
    bend: Bend, x: FloatArray, y: FloatArray, sigma: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """For one line: what its marks' distances gain by a and by b, and the distances, all in their u.

    x, y: offsets as shown, shape (marks, n). Less what the line's own offset and direction take up.
    """
    u, v = undistorted(bend, x, y)
    r = np.hypot(u, v)
    grown = slope(bend, r)
    weight = sigma**-2 + np.zeros_like(u)
    for _ in range(2):  # the line, then again with each mark weighed by how its click spreads across it
        (du, dv), along, across = _laid(u, v, weight)
        weight = 1 / (sigma**2 * _spread(u, v, r, grown, np.hypot(x, y), (-dv, du)))
    root = np.sqrt(weight)
    off = across * root
    by_a = _less(-(-dv * u + du * v) * r**2 / grown * root, root, along)
    by_b = _less(-(-dv * u + du * v) * r**4 / grown * root, root, along)
    return by_a, by_b, off


def _laid(
    u: FloatArray, v: FloatArray, weight: FloatArray
) -> tuple[tuple[FloatArray, FloatArray], FloatArray, FloatArray]:
    """The line of least weighed squared distances: its direction, and the marks along and across it."""
    total = weight.sum(0)
    u, v = u - (weight * u).sum(0) / total, v - (weight * v).sum(0) / total
    turn = 0.5 * np.arctan2(2 * (weight * u * v).sum(0), (weight * (u * u - v * v)).sum(0))
    du, dv = np.cos(turn), np.sin(turn)
    return (du, dv), du * u + dv * v, du * v - dv * u


def _spread(
    u: FloatArray,
    v: FloatArray,
    r: FloatArray,
    grown: FloatArray,
    shown: FloatArray,
    normal: tuple[FloatArray, FloatArray],
) -> FloatArray:
    """The square by which undistorting stretches a click's error across a line, from its two directions."""
    safe = np.where(r > 0, r, 1.0)
    radial = (normal[0] * u + normal[1] * v) / safe
    around = (normal[1] * u - normal[0] * v) / safe
    ratio = np.divide(r, shown, out=np.ones_like(r), where=shown > 0)
    return np.where(r > 0, (radial / grown) ** 2 + (around * ratio) ** 2, 1.0)


def _less(column: FloatArray, root: FloatArray, along: FloatArray) -> FloatArray:
    """A column less its parts along the line's offset (root) and direction (root × along)."""
    tilt = root * along
    column = column - root * (root * column).sum(0) / (root**2).sum(0)
    tilt = tilt - root * (root * tilt).sum(0) / (root**2).sum(0)
    return np.asarray(column - tilt * (tilt * column).sum(0) / (tilt**2).sum(0))


def chi_square_limit(free: int) -> float:
    """What a sum of so many squared standard errors passes once in 700 times.

    Source: E. B. Wilson and M. M. Hilferty, PNAS 17 (1931): (χ²/ν)^⅓ is normal about 1 − 2/9ν, variance 2/9ν.
    """
    part = 2 / (9 * free)
    return float(free * (1 - part + DOUBT_Z * math.sqrt(part)) ** 3)
