"""The centre of mass, between the ankles."""

from __future__ import annotations

import numpy as np

from lessonpress.measure.body.anthropometry import mark_weights
from lessonpress.measure.evaluation import Measurand, evaluate
from lessonpress.measure.formulas import geometry
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import RefusedError

BODY_U = 0.01  # of stature: how far a body's masses move its centre from the table's; common practice
NARROWEST = 10.0  # the ankles must be this many times their uncertainty apart
ANKLES = ("trail-ankle", "lead-ankle")


def balance(scene: Scene, frame: int) -> Measured:
    """Where the centre of mass lies between trail ankle (0 %) and lead ankle (100 %), on the level axis.

    Needs head, shoulders, elbows, wrists, hips, knees and ankles at the frame. The implement's mass is left
    out. Refuses missing marks, all named, views along the target line, and ankles too close together.
    Source: Winter, anthropometric table after Dempster; X = Σ mᵢ Xᵢ over the segments' centres.
    """
    scene.check_faced("balance between the feet")
    weights = mark_weights()
    points = marks_of(scene, frame)
    ankles = tuple(At(mark, frame) for mark in ANKLES)
    body = _body(scene)
    scene.check_points(points)
    scene.check_lengths()

    def model(values: Values) -> FloatArray:
        placed = dict(zip((at.mark for at in points), scene.placed(values, points), strict=True))
        centre = centre_of(placed, weights)[0] + values[body]
        trail, lead = (placed[mark][0] for mark in ANKLES)
        return np.asarray(100 * (centre - trail) / (lead - trail))

    def worked(value: float) -> str:
        placed = dict(zip((at.mark for at in points), scene.placed(scene.best, points), strict=True))
        trail, lead = (float(placed[mark][0][0]) for mark in ANKLES)
        centre = float(centre_of(placed, weights)[0][0])
        return f"100 × {scene.length(centre - trail)} ÷ {scene.length(lead - trail)} = {value:.1f} %"

    stance = first_order(lambda values: geometry.level(*scene.placed(values, ankles)), scene.inputs)
    if abs(stance.value) < NARROWEST * stance.u:
        raise RefusedError("the ankles are too close together to say where between them", "say it in words")
    formula = "100 (Σ mᵢ Xᵢ − X trail ankle) ÷ (X lead ankle − X trail ankle)"
    return evaluate(scene, Measurand(model, "percent", points, formula, worked))


def _body(scene: Scene) -> Quantity:
    """The input for how far this body's masses move its centre from where the table's put it, m."""
    words = "how far this body's masses differ from the table's"
    u = BODY_U * scene.depths.best_stature
    return Quantity(f"{scene.setting.clip}/body", words, 0.0, u, "m")


def centre_of(placed: dict[str, Pair], weights: dict[str, float]) -> Pair:
    """The centre of mass of marks in the room, m."""
    x = sum(weight * placed[mark][0] for mark, weight in weights.items())
    y = sum(weight * placed[mark][1] for mark, weight in weights.items())
    return np.asarray(x), np.asarray(y)


def marks_of(scene: Scene, frame: int) -> tuple[At, ...]:
    """The marks a centre of mass needs, at a frame. Refuses when some are missing, naming all."""
    names = tuple(mark_weights())
    missing = [mark for mark in names if frame not in scene.observations.by_mark.get(mark, {})]
    if missing:
        raise RefusedError(
            f"balance needs {', '.join(missing)} on frame {frame}",
            f"place {', '.join(missing)} on frame {frame}",
        )
    return tuple(At(mark, frame) for mark in names)
