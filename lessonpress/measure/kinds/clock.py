"""A direction as a clock time."""

from __future__ import annotations

from lessonpress.measure.evaluation import Measurand, degrees, evaluate
from lessonpress.measure.formulas import geometry
from lessonpress.measure.formulas.arrays import Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import Values


def clock(scene: Scene, a: At, b: At, *, mirrored: bool = False) -> Measured:
    """Direction a→b on a clock face as shown, deg clockwise from 12: 3 o'clock is the picture's right.

    mirrored: the picture is shown turned about its upright axis, and its right was filmed as its left.
    """
    side = -1 if mirrored else 1

    def shown(values: Values) -> list[Pair]:
        return [(side * x, y) for x, y in scene.placed(values, (a, b), goalward=False)]

    def worked(value: float) -> str:
        dx, dy = scene.best_span(a, b, goalward=False)
        return f"atan2({scene.length(side * dx)}, {scene.length(dy)}) = {degrees(value)}, 30° an hour"

    return evaluate(
        scene,
        Measurand(
            lambda values: geometry.clock(*shown(values)),
            "clock",
            (a, b),
            "direction = atan2(ΔX to the right, ΔY), 30° an hour",
            worked,
            period=360,
            direction=True,
            upright=False,
        ),
    )
