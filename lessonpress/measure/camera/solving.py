"""From a clip's plumb lines and scales to its camera: which can be used, what they weigh, what is odd.

Each step makes a new solver from the one before: with the scales that can be used, weighed; then with the
pitch that plumb lines give, where they give it; then with grids whose corners misfit less trusted.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from lessonpress.measure.body.depths import Depths
from lessonpress.measure.camera.pinhole import Pose
from lessonpress.measure.camera.plumb import PlumbLines
from lessonpress.measure.camera.priors import PITCH_U, priors_of
from lessonpress.measure.camera.scales import ScaleEntry
from lessonpress.measure.camera.solver import Solver
from lessonpress.measure.camera.sway import Sway
from lessonpress.measure.inputs.setting import Setting, WallGrid
from lessonpress.measure.optics.lens import Optics
from lessonpress.measure.uncertainty.propagation import FirstOrder, first_order
from lessonpress.measure.uncertainty.quantities import BestValues, SharedInputs
from lessonpress.measure.uncertainty.refusal import Refusal, RefusedError

NARROWEST = 4.0  # a known length must be this many times a click's error long in the picture
MOST_MISFIT = 0.03  # of a grid's half diagonal: its corners are misplaced or it does not face the camera
HIGHEST_PITCH = 30.0  # deg: beyond it the plumb lines are doubted
NO_SCALE = Refusal("the clip has no scale", "add a known length near the golfer under scale on the card")


@dataclass(frozen=True)
class SolvedCamera:
    """solver: the camera as a function of its inputs. refused: why lengths cannot be given, or None.

    warnings: what does not fit together.
    """

    solver: Solver
    refused: Refusal | None
    warnings: tuple[str, ...]


def solved_camera(
    setting: Setting, optics: Optics, depths: Depths, sway: Sway, inputs: SharedInputs
) -> SolvedCamera:
    """The camera of a clip, from what its card says and its pictures show."""
    lines = PlumbLines(setting, optics)
    unscaled = Solver(setting, priors_of(setting, len(lines)), lines)
    scales, refusals = _usable(setting, optics, depths, sway)
    weighed, disagreements = _weighed(unscaled, scales, inputs)
    solver = replace(weighed, pitch_solved=_pitch_can_be_solved(weighed, inputs))
    best = BestValues()
    pose = solver.pose(best)
    misfits = [_misfit(scale, pose, best) for scale in scales]
    trusted = [replace(scale, misfit=misfit) for scale, misfit in zip(scales, misfits, strict=True)]
    warnings = (*lines.warnings, *disagreements, *_odd_pitch(solver, pose), *_odd_grids(trusted))
    refused = None if scales else (refusals or [NO_SCALE])[0]
    return SolvedCamera(replace(solver, scales=tuple(trusted)), refused, warnings)


# scales


def _usable(
    setting: Setting, optics: Optics, depths: Depths, sway: Sway
) -> tuple[tuple[ScaleEntry, ...], list[Refusal]]:
    """The scales that can be used, and why each other cannot."""
    usable, refusals = [], []
    for index, scale in enumerate(setting.scales):
        entry = ScaleEntry(setting, optics, depths, sway.larger, index, scale)
        try:
            _check(entry, optics)
        except RefusedError as refused:
            refusals.append(refused.refusal)
        else:
            usable.append(entry)
    return tuple(usable), refusals


def _check(entry: ScaleEntry, optics: Optics) -> None:
    entry.refuse_unless_carried()
    entry.refuse_unless_stature()
    seen = optics.observations
    for mark in entry.marks:
        seen.observations_of(entry.at(mark))
    places = [seen.best(entry.at(mark)) for mark in entry.marks]
    if min(math.dist(a, b) for a, b in combinations(places, 2)) < NARROWEST * seen.click_u(None):
        raise RefusedError(
            f"the ends of {entry.words} lie within their own uncertainty of each other",
            "mark a longer known length",
        )


def _weighed(
    unscaled: Solver, scales: tuple[ScaleEntry, ...], inputs: SharedInputs
) -> tuple[Solver, tuple[str, ...]]:
    """A solver with the scales, each weighed by its relative uncertainty alone; warnings of disagreements."""
    if len(scales) < 2:
        return replace(unscaled, scales=scales, weights=(1.0,) * len(scales)), ()
    alone = [_alone(unscaled, scale, inputs) for scale in scales]
    inverse = [(estimate.u / estimate.value) ** -2 for estimate in alone]
    weights = tuple(weight / sum(inverse) for weight in inverse)
    return replace(unscaled, scales=scales, weights=weights), tuple(_disagreements(scales, alone))


def _alone(unscaled: Solver, scale: ScaleEntry, inputs: SharedInputs) -> FirstOrder:
    """The scale that one entry by itself gives."""
    solver = replace(unscaled, scales=(scale,), weights=(1.0,))
    return first_order(lambda values: solver.pose(values).metres, inputs)


def _disagreements(scales: Sequence[ScaleEntry], alone: Sequence[FirstOrder]) -> Iterator[str]:
    for (one, first), (other, second) in combinations(zip(scales, alone, strict=True), 2):
        difference = first.variable - second.variable
        if abs(difference.nominal_value) > 2 * difference.std_dev:
            percent = 100 * abs(first.value / second.value - 1)
            yield (
                f"{one.words} and {other.words} disagree by {percent:.1f} %, "
                f"more than their uncertainties allow"
            )


# plumb lines and grids


def _pitch_can_be_solved(solver: Solver, inputs: SharedInputs) -> bool:
    """Whether the plumb lines give the pitch better than not knowing it."""
    if len(solver.lines) < 2:
        return False
    solving = replace(solver, pitch_solved=True)
    try:
        u = first_order(lambda values: solving.pose(values).attitude.pitch, inputs).u
    except (RefusedError, np.linalg.LinAlgError):
        return False
    return bool(u < math.radians(PITCH_U))


def _odd_pitch(solver: Solver, pose: Pose) -> Iterator[str]:
    """A warning of plumb lines that make an unlikely camera."""
    pitch = math.degrees(float(pose.attitude.pitch[0]))
    if solver.pitch_solved and abs(pitch) > HIGHEST_PITCH:
        way = "up" if pitch > 0 else "down"
        yield f"the plumb lines make the camera look {way} by {abs(pitch):.0f}°"


def _misfit(scale: ScaleEntry, pose: Pose, best: BestValues) -> float:
    """How far a grid's corners lie from the rectangle they should form; 0 for other scales."""
    if not isinstance(scale.scale, WallGrid):
        return 0.0
    return scale.ready(best).misfit(pose.attitude, pose.distance)


def _odd_grids(scales: Sequence[ScaleEntry]) -> Iterator[str]:
    for scale in scales:
        if scale.misfit > MOST_MISFIT:
            yield f"{scale.words} does not look like a rectangle of its size"
