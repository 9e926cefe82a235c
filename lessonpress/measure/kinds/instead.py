"""How far a mark would have moved, had its angle been another."""

from __future__ import annotations

from typing import Literal

import numpy as np

from lessonpress.measure.evaluation import WIDEST_DIRECTION_U, Measurand, degrees, evaluate, unsigned
from lessonpress.measure.formulas import geometry
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.refusal import RefusedError

Along = Literal["chord", "arc"]
FORMULA = {"chord": "2 L |sin(Δ/2)|", "arc": "L |Δ|"}


def instead(scene: Scene, a: At, v: At, b: At, to: float, along: Along) -> Measured:
    """How far b would have moved with the angle at v, from the arm to a, turned to `to` deg, m, ≥ 0.

    b stays on the side of the arm v→a where it is now; L is the length v→b and Δ the turn. Propagated with
    the turn's sign. Refuses without a scale, arms without a direction, and a turn within its own ± of none.
    Source: the chord of a turn, 2 L sin(Δ/2), and its arc, L Δ (Euclid; any handbook).
    """
    scene.check_lengths()
    points = (a, v, b)
    scene.check_points(points)

    def turned(values: Values) -> FloatArray:
        return turn_wanted(scene.placed(values, points), to)

    def model(values: Values) -> FloatArray:
        placed = scene.placed(values, points)
        radians = np.radians(turn_wanted(placed, to))
        length = geometry.straight(placed[1], placed[2])
        return np.asarray(length * (2 * np.sin(radians / 2) if along == "chord" else radians))

    def worked(value: float) -> str:
        length = scene.length(float(np.hypot(*scene.best_span(v, b, among=points))))
        turn = degrees(abs(float(turned(scene.best)[0])))
        shown = f"2 × {length} × sin({turn} / 2)" if along == "chord" else f"{length} × {turn} in radians"
        return f"{shown} = {scene.length(abs(value))}"

    turn = first_order(turned, scene.inputs, period=360)
    if turn.u > WIDEST_DIRECTION_U:
        raise RefusedError(
            "an arm has no direction within its ends' uncertainty", "choose marks farther apart"
        )
    if abs(turn.value) < 2 * turn.u:
        raise RefusedError(
            f"the angle is {degrees(to)} already, within ± {degrees(2 * turn.u)}",
            "ask for an angle farther from it",
        )
    return unsigned(evaluate(scene, Measurand(model, "length", points, FORMULA[along], worked)), model)


def turn_wanted(placed: list[Pair], to: float) -> FloatArray:
    """The signed turn in deg that takes the arm v→b to `to` deg from v→a, on its own side."""
    now = geometry.signed_angle(*placed)
    return np.asarray(np.where(now < 0, -1.0, 1.0) * (to - np.abs(now)))


def turned_end(placed: list[Pair], to: float) -> Pair:
    """Where b would be, m: the arm v→b turned by `turn_wanted`."""
    _, v, b = placed
    # a positive turn runs from the vertical toward the positive level axis: clockwise where x is right
    radians = -np.radians(turn_wanted(placed, to))
    x, y = geometry.apart(v, b)
    return (
        v[0] + x * np.cos(radians) - y * np.sin(radians),
        v[1] + x * np.sin(radians) + y * np.cos(radians),
    )
