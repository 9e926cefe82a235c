"""The lens of one clip: as its card states it, or solved from the card's straight lines, and judged."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from weakref import WeakKeyDictionary

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.observations import Observations
from lessonpress.measure.inputs.setting import ASSUMED_FOCAL, At
from lessonpress.measure.optics.bend import NO_BEND, Bend, bend_of, undistorted
from lessonpress.measure.optics.line_fit import Fit
from lessonpress.measure.optics.straight_lines import BendFromLines, corner_of, filled_up, k2_unit, lines_of
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.quantities import BestValues, Draws, Quantity, SharedInputs
from lessonpress.measure.uncertainty.refusal import Refusal

K2_U = 0.03  # of k2 about 0 before any line is seen; common practice with camera lenses, no published source
MOST_U = 0.1  # of k1: lens coefficients lie within some 0.3, so that worse is as good as not known
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


class _Remembered:
    """The bending for the inputs asked for last, and for each set of draws: once for the same inputs."""

    def __init__(self) -> None:
        self._last: tuple[Values, Bend] | None = None
        self._drawn: WeakKeyDictionary[Draws, Bend] = WeakKeyDictionary()

    def of(self, values: Values, solve: Callable[[Values], Bend]) -> Bend:
        if isinstance(values, Draws):
            if values not in self._drawn:
                self._drawn[values] = solve(values)
            return self._drawn[values]
        if self._last is None or self._last[0] is not values:
            self._last = values, solve(values)
        return self._last[1]


@dataclass(frozen=True)
class Optics:
    """Picture points of a clip, cleared of the lens's distortion.

    stated: the bending as the card gives it. from_lines: as its straight lines give it, None without lines or
    where they do not tell. refused: why they do not, or None. solved: what they tell. warnings: lines that
    are not straight.
    """

    observations: Observations
    stated: Bend
    from_lines: BendFromLines | None = None
    refused: Refusal | None = None
    solved: SolvedBend | None = None
    warnings: tuple[str, ...] = ()
    _remembered: _Remembered = field(default_factory=_Remembered, compare=False, repr=False)

    def bend(self, values: Values) -> Bend:
        """The bending for these inputs, one for each row."""
        return self.stated if self.from_lines is None else self._remembered.of(values, self.from_lines.bend)

    @property
    def marks_at(self) -> set[At]:
        """The marks that the bending rests on, where they are placed."""
        return set() if self.from_lines is None else self.from_lines.marks_at

    def offset(self, at: At, values: Values) -> Pair:
        """Offset px right and up of the centre, in the reference picture, of one mark (not a middle)."""
        bend = self.bend(values)
        pairs = [undistorted(bend, *pair) for pair in self.observations.shown(at, values)]
        if len(pairs) == 1:
            return pairs[0]
        return (
            np.asarray(sum(pair[0] for pair in pairs) / len(pairs)),
            np.asarray(sum(pair[1] for pair in pairs) / len(pairs)),
        )

    def centred(self, x: FloatArray, y: FloatArray, values: Values) -> Pair:
        """A point of the reference picture as an undistorted offset px right and px up of the centre."""
        return undistorted(self.bend(values), *self.observations.from_centre(x, y))


def optics_of(observations: Observations, inputs: SharedInputs) -> Optics:
    """The lens as stated, or solved from straight lines where the card names any."""
    lens = observations.setting.lens
    if not lens.straight:
        return Optics(observations, bend_of(lens))
    unsolved = _unsolved(observations)
    if not unsolved.lines:
        reason = "the lens's straight lines have fewer than three placed marks"
        return Optics(observations, NO_BEND, refused=Refusal(reason, WAY_OUT))
    with np.errstate(all="ignore"):
        return _judged(unsolved, inputs)


def _unsolved(observations: Observations) -> BendFromLines:
    setting, lines = observations.setting, lines_of(observations)
    focal = setting.lens.focal or ASSUMED_FOCAL * max(setting.size)
    k2 = Quantity(
        f"{setting.clip}/lens/k2",
        "second coefficient of the lens, expected",
        0.0,
        K2_U,
        "",
        assumption=f"k2 of the lens 0, u {K2_U}, before its straight lines are seen",
    )
    corner = corner_of(observations)
    fit = Fit(filled_up(lines, corner), K2_U * k2_unit(corner, focal))
    return BendFromLines(observations, lines, fit, focal, k2)


def _judged(unsolved: BendFromLines, inputs: SharedInputs) -> Optics:
    """Solved at the best inputs; refused where k1 is not told; less sure where lines are not straight."""
    observations, focal, lines = unsolved.observations, unsolved.focal, unsolved.lines
    best = BestValues()
    bend = unsolved.bend(best)
    if not math.isfinite(bend.a[0]):
        return _refusing(observations, math.inf)
    begun = _beginning_from(bend, unsolved)
    u = first_order(lambda values: begun.bend(values).a, inputs).u * focal**2
    if not u <= MOST_U:
        return _refusing(observations, u)
    off = unsolved.missed(best, bend)
    warnings, widened = _doubts(unsolved, off)
    solved = SolvedBend(
        k1=float(bend.a[0]) * focal**2,
        u=math.hypot(1.0, widened) * u,
        focal=focal,
        stated=observations.setting.lens.focal is not None,
        lines=len(lines),
        marks=len(unsolved.marks_at),
        residual=float(np.sqrt(np.mean(np.concatenate(off) ** 2))),
    )
    model = replace(begun, misfit=_misfit(observations, widened * u)) if widened else begun
    return Optics(observations, NO_BEND, model, solved=solved, warnings=warnings)


def _beginning_from(bend: Bend, model: BendFromLines) -> BendFromLines:
    """The same, solving onward from a bending of one row: fewer rounds."""
    start = float(bend.a[0]) * model.corner**2, float(bend.b[0]) * model.corner**4
    return replace(model, fit=replace(model.fit, start=start))


def _misfit(observations: Observations, u: float) -> Quantity:
    name = f"{observations.setting.clip}/lens/misfit"
    return Quantity(name, "misfit of the lens's straight lines", 0.0, u, "")


def _refusing(observations: Observations, u: float) -> Optics:
    detail = f": k1 would be good to ± {2 * u:.1f} only" if math.isfinite(u) else ""
    reason = f"the straight lines on the card do not tell how the lens bends{detail}"
    return Optics(observations, NO_BEND, refused=Refusal(reason, WAY_OUT))


def _doubts(model: BendFromLines, off: list[FloatArray]) -> tuple[tuple[str, ...], float]:
    """Warnings of lines that are not straight; by how much of its u the bending is then less sure.

    The scatter beyond what clicks allow widens u as R. T. Birge, Physical Review 40 (1932): by the root
    of χ² over its degrees of freedom.
    """
    lines = model.lines
    squares = [float(np.sum((d / line.sigma) ** 2)) for d, line in zip(off, lines, strict=True)]
    warnings = tuple(
        f"{line.words} do not lie on one straight line: they miss it by up to "
        f"{np.abs(d).max():.1f} px, more than clicks do; one is misplaced, or it is not straight"
        for d, line, square in zip(off, lines, squares, strict=True)
        if square > chi_square_limit(len(d) - 2)
    )
    free = max(sum(len(d) - 2 for d in off) - 1, 1)
    if not warnings and sum(squares) <= chi_square_limit(free):
        return warnings, 0.0
    return warnings, math.sqrt(max(sum(squares) / free - 1, 0.0))


def chi_square_limit(free: int) -> float:
    """What a sum of so many squared standard errors passes once in 700 times.

    Source: E. B. Wilson and M. M. Hilferty, PNAS 17 (1931): (χ²/ν)^⅓ is normal about 1 − 2/9ν, variance 2/9ν.
    """
    part = 2 / (9 * free)
    return float(free * (1 - part + DOUBT_Z * math.sqrt(part)) ** 3)
