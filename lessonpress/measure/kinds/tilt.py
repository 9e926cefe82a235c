"""Lean of a line from the vertical."""

from __future__ import annotations

from lessonpress.measure.evaluation import Measurand, degrees, evaluate
from lessonpress.measure.formulas import geometry
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured


def tilt(scene: Scene, a: At, b: At) -> Measured:
    """Lean of a→b, deg in (-180, 180], positive when b leans toward the goal. θ = atan2(ΔX, ΔY)."""

    def worked(value: float) -> str:
        dx, dy = scene.best_span(a, b)
        return f"atan2({scene.length(dx)}, {scene.length(dy)}) = {degrees(value)}"

    return evaluate(
        scene,
        Measurand(
            lambda values: geometry.tilt(*scene.placed(values, (a, b))),
            "angle",
            (a, b),
            "θ = atan2(ΔX, ΔY)",
            worked,
            axis="level",
            period=360,
            direction=True,
        ),
    )
