"""The inside angle at a mark."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from lessonpress.measure.evaluation import Measurand, degrees, evaluate, unsigned
from lessonpress.measure.formulas import geometry
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import Values


def angle(scene: Scene, a: At, v: At, b: At) -> Measured:
    """Inside angle at v between the arms to a and b, deg, 0 to 180.

    The turn from one arm to the other is propagated with its sign and folded into 0..180 afterwards, so that
    near 0° and 180° the interval stays honest. Refuses where an arm lies within its own ends' uncertainty.
    """

    def model(values: Values) -> FloatArray:
        return geometry.signed_angle(*scene.placed(values, (a, v, b)))

    def worked(value: float) -> str:
        spans = [scene.best_span(v, end, among=(a, v, b)) for end in (a, b)]
        arms = [float(np.degrees(np.arctan2(*span))) for span in spans]
        return f"|{degrees(arms[1])} − ({degrees(arms[0])})| = {degrees(abs(value))}, the inside angle"

    measurand = Measurand(
        model,
        "angle",
        (a, v, b),
        "α = |atan2(ΔX₂, ΔY₂) − atan2(ΔX₁, ΔY₁)|, at most 180°",
        worked,
        period=360,
        direction=True,
        upright=False,
    )
    inside = unsigned(evaluate(scene, measurand), model, most=180.0)
    return replace(inside, axis=None)
