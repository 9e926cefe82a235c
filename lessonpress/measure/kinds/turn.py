"""Rotation about the vertical, read from foreshortening less what sideways tipping takes of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from lessonpress.measure.body.posture import bare
from lessonpress.measure.evaluation import Measurand, degrees, evaluate
from lessonpress.measure.formulas import geometry
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import TRIAL_DRAWS, Model, Values, first_order, monte_carlo
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import RefusedError

SQUARE_U = 5.0  # deg: how square to the camera a line across the body is at first
# The trail hand holds the grip lower, so the shoulders lean sideways; about a trunk bent 35° to the ball a
# lean of 14° opens them by atan(tan 14° sin 35°) = 8°.
SHOULDERS_SQUARE_U = 8.0  # deg
LEAST = 1.0  # deg: an interval that reaches down to here does not distinguish a turn from none
NARROWEST = 6.0  # the line at first must be this many times its own uncertainty
LEFT_OVER = 3.0  # likewise what its rise now leaves of it: less may as well be nothing


@dataclass(frozen=True)
class _Seen:
    """A line as seen at two instants, m, each an array: across (signed, as a→b lies) and its rise."""

    across_then: FloatArray
    rise_then: FloatArray
    across_now: FloatArray
    rise_now: FloatArray

    def level_now_squared(self, off: FloatArray) -> FloatArray:
        """What its rise now leaves of the line's length for its level part, squared; none is 0 or under."""
        level_then = self.across_then / np.cos(off)
        return np.asarray(level_then**2 + self.rise_then**2 - self.rise_now**2)

    def turned(self, off: FloatArray) -> FloatArray:
        """How far its level part has turned, deg, for a line that stood `off` (rad) from square at first."""
        level_now = np.sqrt(np.maximum(self.level_now_squared(off), np.finfo(float).tiny))
        across_now = self.across_now * np.sign(self.across_then)
        return np.asarray(np.degrees(np.arccos(np.clip(across_now / level_now, -1, 1)) - off))

    def grown(self, off: FloatArray) -> FloatArray:
        """How much longer it is seen now than it was, m; over 0 no turn from square explains it."""
        first = np.hypot(self.across_then / np.cos(off), self.rise_then)
        return np.asarray(np.hypot(self.across_now, self.rise_now) - first)


def turn(scene: Scene, then: tuple[At, At], now: tuple[At, At]) -> Measured:
    """How far the line a→b has turned about the vertical, deg, a magnitude 0 to 180, drawn by Monte Carlo.

    The line keeps one length L in space. At an instant it shows ΔX across and rises by ΔY, and ΔZ goes toward
    the camera, unseen: L² = ΔX² + ΔY² + ΔZ². Its level part, P = √(L² − ΔY²), lies at ψ from the subject
    plane, ΔX = P cos ψ, and the turn is that of the level part, ψ now − ψ then. At first it is taken to have
    stood square within ψ then = 0, u 5° (shoulders 8°), so that L² = (ΔX then ÷ cos ψ then)² + ΔY² then, and

        φ = acos(ΔX now ÷ √(L² − ΔY² now)) − ψ then.

    A line that leans sideways is thus not taken for one that has turned: only what its rise leaves of its
    length may have. ΔX and ΔY are those of the room (perspective and depth undone by the solved camera). ΔX
    now against its own direction at first says more than 90°; to which side a line has turned is not seen.
    Draws keep their order under acos, so their interval covers as the foreshortening's own does, near zero
    too. Refuses where the interval reaches zero, saying what the turn does not exceed; views along the target
    line, from which such a line is seen end on; a line too short at first; one whose rise leaves nothing of
    its length; and one that is longer now than it can have been. Source: a segment's length and its
    projections, any text on orthographic projection (Pythagoras).
    """
    scene.check_faced("a turn from foreshortening")
    square = _square_at_first(scene, then)
    points = (*then, *now)

    def seen(values: Values) -> _Seen:
        a0, b0, a1, b1 = scene.placed(values, points)
        return _Seen(*geometry.apart(a0, b0), *geometry.apart(a1, b1))

    def worked(value: float) -> str:
        best = seen(scene.best)
        parts = (best.across_now, best.across_then, best.rise_then, best.rise_now)
        now_x, then_x, then_y, now_y = (scene.length(float(part[0])) for part in parts)
        return f"acos({now_x} / √(({then_x})² + ({then_y})² − ({now_y})²)) = {degrees(value)}"

    scene.check_points(points)
    _check_length(scene, lambda values: seen(values).across_then)
    _check_left(scene, lambda values: seen(values).level_now_squared(values[square]))
    _check_grown(scene, lambda values: seen(values).grown(values[square]))
    turned = evaluate(
        scene,
        Measurand(
            lambda values: seen(values).turned(values[square]),
            "angle",
            points,
            "φ = acos(ΔX now ÷ √(ΔX² at first + ΔY² at first − ΔY² now))",
            worked,
            drawn=True,
        ),
    )
    if turned.low < LEAST:
        raise RefusedError(
            f"a turn of no more than {math.ceil(turned.high)}°: so near square that it may be none",
            "measure it later in the turn, or say in words that it is small",
        )
    return turned


def _square_at_first(scene: Scene, then: tuple[At, At]) -> Quantity:
    """The input for how far from square the line was at first, rad, an error about zero."""
    u = SHOULDERS_SQUARE_U if any(bare(at.mark) == "shoulder" for at in then) else SQUARE_U
    a, b = then
    return Quantity(
        f"{scene.setting.clip}/square/{a.mark}/{b.mark}/{a.frame}",
        f"how square {a.mark} to {b.mark} stood at first",
        0.0,
        math.radians(u),
        "rad",
        assumption=f"square to the camera at first, u {u:.0f}°, and of one length since",
    )


def _check_length(scene: Scene, across: Model) -> None:
    at_first = first_order(across, scene.inputs)
    if abs(at_first.value) >= NARROWEST * at_first.u:
        return
    if scene.lengths_refused is not None:
        raise RefusedError(
            f"how far the line's ends are from the camera counts in a turn, and "
            f"{scene.lengths_refused.reason}",
            scene.lengths_refused.way_out,
        )
    raise RefusedError(
        "the line is too short at first to show a turn", "choose an instant when it faces the camera"
    )


def _check_left(scene: Scene, level_squared: Model) -> None:
    """Refuses a line that is nearly upright now. u(P²) is 2 P u(P)."""
    left = first_order(level_squared, scene.inputs)
    if left.value < LEFT_OVER / 2 * left.u:
        raise RefusedError(
            "the line has tipped so far that its rise takes up its whole length, and leaves nothing of it to "
            "be seen turning",
            "choose an instant when it lies nearer level, or another line",
        )


def _check_grown(scene: Scene, grown: Model) -> None:
    """Refuses a line that has grown whatever its inputs may be: it did not face the camera at first."""
    if monte_carlo(grown, scene.inputs, draws=TRIAL_DRAWS).low > 0:
        raise RefusedError(
            "the line is seen longer now than at first, so it did not face the camera then",
            "count it `since` an instant when it faces the camera",
        )
