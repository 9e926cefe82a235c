"""In space: an angle or a distance with what goes toward the camera, where a second view shows it.

Level and up as everywhere, and toward the camera the depth from where two rays meet. The measurand is that of
the points themselves and of no projection: its plane is "in space".
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from lessonpress.measure.evaluation import Measurand, degrees, evaluate
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.kinds.seen import PLANE, check_seen
from lessonpress.measure.numbers import signs
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.refusal import RefusedError

LEAST = 4.0  # a length that cannot be negative is trusted where it is this many times its u
NEAR = 3.0  # u: an angle nearer to 0° or 180° may be either, and errs to one side alone


def angle_in_space(scene: Scene, a: At, v: At, b: At) -> Measured:
    """Inside angle at v between the arms to a and b, deg: acos(p · q ÷ |p| |q|).

    Refuses what has no second view, and an angle within three of its u of 0° or 180°.
    """

    def model(values: Values) -> FloatArray:
        p, q = _arms(scene, values, (a, v, b))
        across = np.linalg.norm(np.cross(p, q, axis=0), axis=0)
        return np.asarray(np.degrees(np.arctan2(across, np.sum(p * q, axis=0))))

    def worked(value: float) -> str:
        p, q = (arm[:, 0] for arm in _arms(scene, scene.best, (a, v, b)))
        return f"acos({_written(scene, p)} · {_written(scene, q)}) = {degrees(value)}"

    check_seen(scene, (a, v, b))
    measurand = Measurand(
        model,
        "angle",
        (a, v, b),
        "α = acos(p · q ÷ (|p| |q|)), p and q the arms: level, up, toward the camera",
        worked,
        direction=True,
    )
    found = evaluate(scene, measurand)
    nearest = min(found.value, 180 - found.value)
    if nearest < NEAR * first_order(model, scene.inputs).u:
        folded = f"no more than {math.ceil(found.high)}°" if found.value < 90 else _no_less(found.low)
        raise RefusedError(
            f"an angle in space of {folded}: so near a straight line that it may be one",
            "say in words that it is nearly straight, or measure the angle in the picture",
        )
    return replace(_to_both_sides(found), plane=PLANE)


def _to_both_sides(found: Measured) -> Measured:
    """The interval as wide to either side as draws go to one.

    Errors only bend what is nearly straight: the measured angle is already bent more than the true one, and
    draws about it are bent once more, so that their interval leaves out just the side on which truth lies.
    """
    wide = max(found.value - found.low, found.high - found.value)
    low, high = max(0.0, found.value - wide), min(180.0, found.value + wide)
    return replace(found, low=low, high=high, uncertainty=(high - low) / 2)


def _no_less(low: float) -> str:
    return f"no less than {math.floor(low)}°"


def distance_in_space(scene: Scene, a: At, b: At) -> Measured:
    """How far b lies from a, m: √(ΔX² + ΔY² + ΔZ²). Refuses a length under four of its u."""

    def model(values: Values) -> FloatArray:
        (p,) = _apart(scene, values, ((a, b),))
        return np.asarray(np.linalg.norm(p, axis=0))

    def worked(value: float) -> str:
        p = _apart(scene, scene.best, ((a, b),))[0][:, 0]
        return f"|{_written(scene, p)}| = {scene.length(value)}"

    check_seen(scene, (a, b))
    formula = "√(ΔX² + ΔY² + ΔZ²): level, up, toward the camera"
    found = evaluate(scene, Measurand(model, "length", (a, b), formula, worked, axis="straight"))
    u = first_order(model, scene.inputs).u
    if found.value < LEAST * u:
        raise RefusedError(
            f"{scene.length(found.value)} in space is too little against ± {scene.length(2 * u)}",
            "measure it level or plumb, where a length has a sign",
        )
    return replace(found, plane=PLANE)


def turn_in_space(scene: Scene, then: tuple[At, At], now: tuple[At, At]) -> Measured:
    """Rotation about the vertical of the line a→b between two instants, deg in (−180, 180].

    Positive toward the target: the side that faced the ball comes to face it. As seen from above, the line's
    level part points at h = atan2(−ΔZ, ΔX), X toward the target and Z toward the ball, and the turn is h now
    − h then. Nothing is taken for granted about how the line stood or how long it is. Refuses a line that
    stands so nearly upright, or is so short, that it has no direction from above.
    Source: azimuth of a line, any text on surveying.
    """

    def model(values: Values) -> FloatArray:
        off = _heading(scene, values, now) - _heading(scene, values, then)
        return np.asarray((off + 180) % 360 - 180)

    def worked(value: float) -> str:
        first, last = (float(_heading(scene, scene.best, line)[0]) for line in (then, now))
        return f"({degrees(last)}) − ({degrees(first)}) = {degrees(value)}"

    check_seen(scene, (*then, *now))
    measurand = Measurand(
        model,
        "angle",
        (*then, *now),
        "φ = h now − h then, h = atan2(−ΔZ, ΔX) from above: X toward the target, Z toward the ball",
        worked,
        axis="level",
        period=360,
        direction=True,
    )
    found = evaluate(scene, measurand)
    return replace(found, plane=PLANE, goal="target", way=signs.way(found.value, "level", "target"))


def _heading(scene: Scene, values: Values, line: tuple[At, At]) -> FloatArray:
    """Where a line points as seen from above, deg: 0 toward the target, positive away from the ball."""
    (p,) = _apart(scene, values, (line,))
    target, ball = scene.on_the_floor(p[0], p[2])
    return np.asarray(np.degrees(np.arctan2(-ball, target)))


def _arms(scene: Scene, values: Values, points: tuple[At, At, At]) -> list[FloatArray]:
    a, v, b = points
    return _apart(scene, values, ((v, a), (v, b)))


def _apart(scene: Scene, values: Values, pairs: Sequence[tuple[At, At]]) -> list[FloatArray]:
    """From the first point of each pair to the second, (3, n), m."""
    places = {at: scene.in_space(at, values) for pair in pairs for at in pair}
    return [np.stack([q - p for p, q in zip(places[a], places[b], strict=True)]) for a, b in pairs]


def _written(scene: Scene, vector: FloatArray) -> str:
    return "(" + ", ".join(scene.length(float(part)) for part in vector) + ")"
