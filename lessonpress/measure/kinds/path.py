"""The length of a mark's way."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from lessonpress.measure import geometry
from lessonpress.measure.measured import Measured
from lessonpress.measure.propagation import LARGEST_BIAS, TRIAL_DRAWS, Model, Values, first_order, monte_carlo
from lessonpress.measure.quantities import FloatArray
from lessonpress.measure.reckoning import Asked, reckon
from lessonpress.measure.refusal import RefusedError
from lessonpress.measure.scene import Scene
from lessonpress.measure.setting import At

MOST_MISSING = 0.5  # of the frames between the ends


def path(scene: Scene, mark: str, start: int, end: int) -> Measured:
    """Sum of the chords between the places of a mark from frame `start` to `end`, m, unsmoothed.

    Along the way the mark's own depth is one smooth unknown. Refuses without a scale, without places at both
    ends or on half of the frames, and where the mark moves so little between pictures that the errors of its
    places would lengthen the way by more than a quarter of its standard uncertainty.
    """
    scene.check_lengths()
    first, last = min(start, end), max(start, end)
    frames = frames_of_way(scene, mark, first, last)
    points = tuple(At(mark, frame) for frame in frames)

    def model(values: Values) -> FloatArray:
        placed = scene.placed(values, points, span=(first, last))
        return np.asarray(sum(geometry.straight(a, b) for a, b in pairwise(placed)))

    def worked(value: float) -> str:
        return f"{len(points) - 1} chords, together {scene.length(value)}"

    scene.check_points(points)
    _refuse_noise(scene, model)
    return reckon(scene, Asked(model, "length", points, "Σ √(ΔX² + ΔY²) over the places", worked))


def frames_of_way(scene: Scene, mark: str, first: int, last: int) -> list[int]:
    """Every frame from first to last on which the mark is placed; refuses gaps at the ends and large ones."""
    frames = scene.tracked(mark, first, last)
    for frame in (first, last):
        if frame not in frames:
            raise RefusedError(
                f"{mark} is not marked on frame {frame}", f"track {mark} from {first} to {last}"
            )
    if first == last:
        raise RefusedError("a way needs two instants", "begin it earlier with from")
    if len(frames) - 1 < MOST_MISSING * (last - first):
        raise RefusedError(
            f"{mark} is placed on {len(frames)} of {last - first + 1} frames, too few for its way",
            f"track {mark} from {first} to {last}",
        )
    return frames


def _refuse_noise(scene: Scene, model: Model) -> None:
    found = first_order(model, scene.quantities)
    drawn = monte_carlo(model, scene.quantities, draws=TRIAL_DRAWS)
    if drawn.mean - found.value > LARGEST_BIAS * found.u:
        raise RefusedError(
            "the mark moves too little between pictures: errors of its places would lengthen its way",
            "measure its shift between two instants instead",
        )
