"""How far apart: between two marks, or where one mark was and is."""

from __future__ import annotations

from lessonpress.measure.evaluation import Measurand, evaluate, refuse_too_short
from lessonpress.measure.formulas import geometry
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.records import Axis

BY_AXIS = {"level": geometry.level, "plumb": geometry.plumb, "straight": geometry.straight}
FORMULA = {"level": "ΔX", "plumb": "ΔY", "straight": "√(ΔX² + ΔY²)"}
SIGNED = "measure it level or plumb, where a length has a sign"


def span(scene: Scene, a: At, b: At, axis: Axis) -> Measured:
    """From a to b, m: signed along the level or plumb axis, or straight (≥ 0).

    Refuses without a scale, and a straight length too near zero (`refuse_too_short`).
    """

    def worked(value: float) -> str:
        dx, dy = scene.best_span(a, b)
        if axis == "straight":
            return f"√(({scene.length(dx)})² + ({scene.length(dy)})²) = {scene.length(value)}"
        return f"{FORMULA[axis]} = {scene.length(value)}"

    measurand = Measurand(
        lambda values: BY_AXIS[axis](*scene.placed(values, (a, b))),
        "length",
        (a, b),
        FORMULA[axis],
        worked,
        axis=axis,
    )
    if axis == "straight" and scene.metric:
        scene.check_points((a, b))
        refuse_too_short(lambda values: scene.placed(values, (a, b)), scene, scene.length, SIGNED)
    return evaluate(scene, measurand)
