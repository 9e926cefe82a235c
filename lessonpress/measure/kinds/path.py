"""The length of a mark's way."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from lessonpress.measure.evaluation import Measurand, evaluate
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.formulas.savitzky_golay import weights
from lessonpress.measure.inputs.observations import is_place
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.kinds.seen import PLANE, check_seen_along
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import (
    LARGEST_BIAS,
    SEED,
    TRIAL_DRAWS,
    Model,
    Values,
    first_order,
)
from lessonpress.measure.uncertainty.quantities import Draws, Quantity
from lessonpress.measure.uncertainty.refusal import RefusedError

MOST_MISSING = 0.5  # of the frames between the ends
PLACES = 5  # of a parabola
CUT = 2.5  # times what noise adds may be lost on parabolas; more means that they cut the way's corners
PLAIN = "Σ √(ΔX² + ΔY²) over the places"
SPACE = "Σ √(ΔX² + ΔY² + ΔZ²) over the places"
Place = tuple[FloatArray, ...]  # level and up, and in space toward the camera, m
Ways = Callable[[Values], list[Place]]


def path(scene: Scene, mark: str, start: int, end: int, *, space: bool = False) -> Measured:
    """Sum of the chords between the places of a mark from frame `start` to `end`, m.

    Errors of places lengthen every chord. Where that comes to more than a quarter of the way's standard
    uncertainty, each place is laid on the parabola through five neighbours, as for a speed (Savitzky and
    Golay 1964): a circle turned by 10° a picture loses 1 in 10,000 by it. Along the path the mark's own depth
    is one smooth unknown; in space it is that of the second view in each picture. Refuses without a scale,
    without places at both ends or on half of the frames, and where the mark moves so little that parabolas do
    not help, or turns so much that they would cut it short.
    """
    scene.check_lengths()
    first, last = min(start, end), max(start, end)
    points = tuple(At(mark, frame) for frame in frames_of_way(scene, mark, first, last))
    scene.check_points(points)

    span = first, last
    if space:
        check_seen_along(scene, mark, span)

    def placed(values: Values) -> list[Place]:
        if space:
            return [scene.in_space(point, values, span) for point in points]
        return [*scene.placed(values, points, span=span)]

    plain = SPACE if space else PLAIN
    if not _too_noisy(scene, length_of(placed)):
        return _evaluated(scene, points, placed, plain)
    smoothed = on_parabolas(placed, [scene.depths.time(point.frame) for point in points])
    if len(points) < PLACES or _too_noisy(scene, length_of(smoothed)) or _cut(scene, placed, smoothed):
        raise RefusedError(
            "the mark moves too little between pictures: errors of its places would lengthen its path",
            "measure its shift between two instants instead",
        )
    return _evaluated(scene, points, smoothed, f"{plain}, each on the parabola through {PLACES}")


def _evaluated(scene: Scene, points: tuple[At, ...], placed: Ways, formula: str) -> Measured:
    def worked(value: float) -> str:
        return f"{len(points) - 1} chords, together {scene.length(value)}"

    found = evaluate(scene, Measurand(length_of(placed), "length", points, formula, worked))
    return replace(found, plane=PLANE) if formula.startswith(SPACE) else found


def length_of(placed: Ways) -> Model:
    """The sum of the chords between places."""
    return lambda values: np.asarray(sum(_chord(a, b) for a, b in pairwise(placed(values))))


def _chord(a: Place, b: Place) -> FloatArray:
    return np.asarray(np.sqrt(sum((q - p) ** 2 for p, q in zip(a, b, strict=True))))


def on_parabolas(placed: Ways, times: Sequence[float]) -> Ways:
    """The places, each on the parabola in time through the five nearest it: one-sided at the ends."""
    last = max(len(times) - PLACES, 0)
    windows = [min(max(index - PLACES // 2, 0), last) for index in range(len(times))]
    shares = [
        weights(np.array(times[start : start + PLACES]) - times[index], 2, 0)
        for index, start in enumerate(windows)
    ]

    def smoothed(values: Values) -> list[Place]:
        columns = [np.stack(one) for one in zip(*placed(values), strict=True)]
        return [
            tuple(share @ column[start : start + PLACES] for column in columns)
            for share, start in zip(shares, windows, strict=True)
        ]

    return smoothed


def _too_noisy(scene: Scene, length: Model) -> bool:
    return _added_by_noise(scene, length) > LARGEST_BIAS * first_order(length, scene.inputs).u


def _added_by_noise(scene: Scene, length: Model) -> float:
    """What errors of the places, and of nothing else, add to a way on average, m."""
    drawn = OnlyPlaces(scene.inputs.draws(TRIAL_DRAWS, SEED))
    return float(np.mean(length(drawn)) - length(scene.best)[0])


def _cut(scene: Scene, placed: Ways, smoothed: Ways) -> bool:
    raw, less = (float(length_of(way)(scene.best)[0]) for way in (placed, smoothed))
    return raw - less > CUT * _added_by_noise(scene, length_of(placed))


class OnlyPlaces(dict[Quantity, FloatArray]):
    """Draws in which only the places in the pictures err, everything else being at its best value."""

    def __init__(self, draws: Draws) -> None:
        super().__init__()
        self._draws = draws

    def __missing__(self, quantity: Quantity) -> FloatArray:
        if is_place(quantity):
            return self._draws[quantity]
        return np.full(self._draws.count, quantity.value)


def frames_of_way(scene: Scene, mark: str, first: int, last: int) -> list[int]:
    """Every frame from first to last on which the mark is placed; refuses gaps at the ends and large ones."""
    frames = scene.tracked(mark, first, last)
    for frame in (first, last):
        if frame not in frames:
            raise RefusedError(
                f"{mark} is not marked on frame {frame}", f"track {mark} from {first} to {last}"
            )
    if first == last:
        raise RefusedError("a path needs two instants", "begin it earlier with from")
    if len(frames) - 1 < MOST_MISSING * (last - first):
        raise RefusedError(
            f"{mark} is placed on {len(frames)} of {last - first + 1} frames, too few for its path",
            f"track {mark} from {first} to {last}",
        )
    return frames
