"""The circle of a mark's path: its radius, or how far its centre lies from a mark."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from lessonpress.measure.evaluation import Measurand, evaluate, refuse_too_short
from lessonpress.measure.formulas import circle_fit, geometry
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.kinds.path import frames_of_way
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.refusal import RefusedError

PLACES = 5
WIDEST = 0.5  # a radius with a wider ± than this part of it says nothing


def circle(scene: Scene, mark: str, start: int, end: int, near: At | None = None) -> Measured:
    """Radius of the circle nearest to a mark's places from `start` to `end`, m, or its centre's distance.

    near: the mark, at a frame, from which the centre's distance is asked. Along the path the mark's own depth
    is one smooth unknown. Refuses without a scale, with fewer than five places, an arc so short that ± passes
    half of the radius, and a centre within four times its uncertainty of the mark. Source: Gander, Golub and
    Strebel 1994, geometric fit.
    """
    scene.check_lengths()
    first, last = min(start, end), max(start, end)
    points = tuple(At(mark, frame) for frame in frames_of_way(scene, mark, first, last))
    if len(points) < PLACES:
        raise RefusedError(f"{len(points)} places are too few for a circle", f"track {mark} over more frames")
    scene.check_points(points if near is None else (*points, near))

    def fitted(values: Values) -> circle_fit.Circle:
        placed = scene.placed(values, points, span=(first, last))
        return circle_fit.circle(*(np.stack([point[axis] for point in placed]) for axis in (0, 1)))

    def radius(values: Values) -> FloatArray:
        return fitted(values)[2]

    def worked_radius(value: float) -> str:
        return f"{len(points)} places, r = {scene.length(value)}"

    formula = "least Σ (|P − C| − r)² over the places"
    fitted_radius = evaluate(scene, Measurand(radius, "length", points, formula, worked_radius))
    if fitted_radius.uncertainty > WIDEST * fitted_radius.value:
        raise RefusedError(
            "the arc is too short to say what circle it belongs to", "fit it over a longer stretch"
        )
    if near is None:
        return fitted_radius
    return _from_centre(scene, points, near, fitted, formula)


def _from_centre(
    scene: Scene,
    points: tuple[At, ...],
    near: At,
    fitted: Callable[[Values], circle_fit.Circle],
    formula: str,
) -> Measured:

    def ends(values: Values) -> tuple[Pair, Pair]:
        a, b, _ = fitted(values)
        return scene.placed(values, (near,))[0], (a, b)

    def worked(value: float) -> str:
        dx, dy = (float(part[0]) for part in geometry.apart(*ends(scene.best)))
        return f"√(({scene.length(dx)})² + ({scene.length(dy)})²) = {scene.length(value)}"

    refuse_too_short(ends, scene, scene.length, f"say in words that the centre lies close to {near.mark}")
    measurand = Measurand(
        lambda values: geometry.straight(*ends(values)),
        "length",
        (*points, near),
        f"|C − {near.mark}|, C from {formula}",
        worked,
    )
    return evaluate(scene, measurand)
