"""From a measurand to a `Measured`: propagation, interval, budget, and the refusals common to all."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lessonpress.measure.formulas import geometry
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.numbers import signs
from lessonpress.measure.numbers.units import in_units
from lessonpress.measure.remedies import larger, narrower
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty import budget
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import (
    DRAWS,
    FirstOrder,
    Model,
    Values,
    first_order,
    holds,
    monte_carlo,
)
from lessonpress.measure.uncertainty.refusal import Refusal, RefusedError
from lessonpress.records import Axis, Budget, Dimension, Units, other_units

FIRST_ORDER = "first order (JCGM 100)"
MONTE_CARLO = f"Monte Carlo (JCGM 101), {DRAWS} draws"
WIDEST_DIRECTION_U = 15.0  # deg: a line whose direction is less sure lies within its ends' uncertainty
WIDEST_DIRECTION = 60.0  # deg, ±: the same of draws
OTHER_VIEW = {"face-on": "down the line", "down-the-line": "face-on"}
SHORTEST = 4.0  # a length that cannot be negative is trusted where it is this many times its crosswise u
TOLD_APART = 2.0  # and this many times its u along itself: less may be no length at all


@dataclass(frozen=True)
class Measurand:
    """What is to be measured, before it is (JCGM 200:2012, 2.3).

    model: columns of inputs to a column. points: the marks it rests on. formula, worked: how it is shown,
    worked from the value. axis: what its sign means. period: 360 for directions. direction: refused where too
    unsure. upright: needs an upright plane. drawn: first order is not tried. marks: those of the ledger.
    """

    model: Model
    dimension: Dimension
    points: tuple[At, ...]
    formula: str
    worked: Callable[[float], str]
    axis: Axis | None = None
    period: float | None = None
    direction: bool = False
    upright: bool = True
    drawn: bool = False
    marks: tuple[str, ...] = ()


def refusing(compute: Callable[[], Measured], units: Units) -> Measured | Refusal:
    """What `compute` gives, or the refusal it met, its lengths in `units` and in the others."""
    try:
        return compute()
    except RefusedError as refused:
        reason, way_out = refused.refusal.reason, refused.refusal.way_out
        return Refusal(
            in_units(reason, units), in_units(way_out, units), in_units(reason, other_units(units))
        )


def evaluate(scene: Scene, measurand: Measurand) -> Measured:
    """The number with its interval and budget.

    Raises RefusedError for marks that are missing, a camera that may have moved or cannot be solved, lengths
    without a scale, an upright plane from overhead, and a line that lies within its ends' uncertainty.
    """
    _check_view(scene, measurand)
    scene.check_points(measurand.points)
    if measurand.dimension in ("length", "speed"):
        scene.check_lengths()
    estimate = first_order(measurand.model, scene.inputs, period=measurand.period)
    if not math.isfinite(estimate.value) or not math.isfinite(estimate.u):
        raise RefusedError(
            "the camera cannot be solved from these marks", "check the marks of the plumb lines and scales"
        )
    if measurand.direction and estimate.u > WIDEST_DIRECTION_U and not _two_ways(estimate):
        raise RefusedError(
            "the ends lie within their own uncertainty of each other, so the line has no direction",
            "choose marks farther apart, or state their depths on the card",
        )
    return _measured(scene, measurand, estimate)


def _two_ways(estimate: FirstOrder) -> bool:
    """Whether it rests on a part that may point two ways, over which first order makes one slope."""
    return any(one.about == "limb" for one in estimate.slopes)


def _refuse_too_wide(measurand: Measurand, low: float, high: float) -> None:
    """A direction of which draws leave hardly anything out, however sure either of two ways is."""
    wide = (high - low) / 2
    if measurand.direction and wide > WIDEST_DIRECTION:
        raise RefusedError(
            f"it is good to ± {wide:.0f}° only, since one end may lie far before the other or far behind it",
            "film it from the other side as well, or state the depths of its marks on the card",
        )


def _check_view(scene: Scene, measurand: Measurand) -> None:
    if scene.setting.view == "overhead" and measurand.upright:
        raise RefusedError(
            "seen from overhead there is no upright plane", "measure a clock direction or an inside angle"
        )


def _measured(scene: Scene, measurand: Measurand, estimate: FirstOrder) -> Measured:
    low, high, k = _interval(scene, measurand, estimate)
    _refuse_too_wide(measurand, low, high)
    worked = measurand.worked(estimate.value)
    return Measured(
        value=estimate.value,
        dimension=measurand.dimension,
        uncertainty=(high - low) / 2,
        k=k,
        low=low,
        high=high,
        axis=measurand.axis,
        way=signs.way(estimate.value, measurand.axis, scene.setting.goal),
        plane=scene.setting.plane,
        frames=tuple(sorted({at.frame for at in measurand.points})),
        marks=measurand.marks or tuple(dict.fromkeys(at.mark for at in measurand.points)),
        assumed=budget.assumed(estimate.slopes),
        budget=Budget(
            measurand.formula,
            in_units(worked, scene.units),
            budget.shares(estimate, scene.setting.clip),
            FIRST_ORDER if k else MONTE_CARLO,
            in_units(worked, other_units(scene.units)),
            budget.sources(estimate, (scene.setting.clip,)),
            tuple(in_units(words, scene.units) for words in scene.depths_seen(measurand.points)),
        ),
        clips=(scene.setting.clip,),
        narrower=narrower(
            estimate,
            (high - low) / 2,
            _other_view(scene),
            club=scene.setting.implement_length is None,
            larger=larger(scene.setting.size, None if scene.setting.view == "overhead" else scene.seen_size),
        ),
        goal=scene.setting.goal,
        variable=estimate.variable,
        model=measurand.model,
        inputs=scene.inputs,
        period=measurand.period,
    )


def _other_view(scene: Scene) -> str:
    """The view that would show this one's depths; "" where a second view is used, or none would do."""
    return "" if scene.second is not None else OTHER_VIEW.get(scene.setting.view, "")


def _interval(scene: Scene, measurand: Measurand, estimate: FirstOrder) -> tuple[float, float, float | None]:
    """Ends of the 95 % interval and k, by Monte Carlo where trial draws contradict first order."""
    if not measurand.drawn and holds(estimate, measurand.model, scene.inputs, period=measurand.period):
        return estimate.value - 2 * estimate.u, estimate.value + 2 * estimate.u, 2.0
    drawn = monte_carlo(measurand.model, scene.inputs, period=measurand.period)
    if not math.isfinite(drawn.low) or not math.isfinite(drawn.high):
        raise RefusedError(
            "the camera cannot be solved for all that its marks may be",
            "mark the plumb lines and scales again, farther apart",
        )
    return drawn.low, drawn.high, None


def unsigned(signed: Measured, model: Model, most: float | None = None) -> Measured:
    """The size of a number that was propagated with its sign, its interval folded at 0 (and at `most`).

    Folding after propagation keeps an interval honest near the fold, where the size itself has a biased mean.
    """
    sign = -1 if signed.value < 0 else 1
    ends = sorted((sign * signed.low, sign * signed.high))
    return replace(
        signed,
        value=abs(signed.value),
        low=max(0.0, ends[0]),
        high=ends[1] if most is None else min(most, ends[1]),
        way="",
        variable=sign * signed.variable,
        model=lambda values: np.asarray(sign * model(values)),
    )


def refuse_too_short(
    placed: Callable[[Values], Sequence[Pair]],
    scene: Scene,
    shown: Callable[[float], str],
    way_out: str,
) -> None:
    """Refuses a straight length near zero: it cannot be below nothing, so its errors do not cancel.

    placed: the two ends, in the room. shown: how a length is written. The length must be four times what it
    may err crosswise, and over twice what it may err along itself. The two differ: feet below the lens whose
    depth is not known err up and down far more than sideways, and one behind the other they are seen some
    way apart, which read alone would be an interval that stops short of nothing.
    """
    start, end = placed(scene.best)
    dx, dy = (float(part[0]) for part in geometry.apart(start, end))
    length = math.hypot(dx, dy)
    ux, uy = (dx / length, dy / length) if length else (1.0, 0.0)

    def crosswise(values: Values) -> FloatArray:
        x, y = geometry.apart(*placed(values))
        return np.asarray(uy * x - ux * y)

    def lengthwise(values: Values) -> FloatArray:
        x, y = geometry.apart(*placed(values))
        return np.asarray(ux * x + uy * y)

    for model, least, word in ((crosswise, SHORTEST, "crosswise"), (lengthwise, TOLD_APART, "lengthwise")):
        u = first_order(model, scene.inputs).u
        if length < least * u:
            raise RefusedError(
                f"{shown(length)} straight is too little against ± {shown(2 * u)} {word}", way_out
            )


def degrees(value: float) -> str:
    """A worked angle: one decimal and a true minus sign."""
    return f"{value:.1f}°".replace("-", "−")
