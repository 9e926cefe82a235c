"""The camera of a clip as a function of its inputs: plumb lines, known lengths and distances together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lessonpress.measure.camera.pinhole import Attitude, Pose
from lessonpress.measure.camera.plumb import PlumbLines
from lessonpress.measure.camera.priors import DISTANCE, Priors
from lessonpress.measure.camera.scales import ReadyScale, ScaleEntry
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import ASSUMED_FOCAL, At, Setting
from lessonpress.measure.uncertainty.propagation import Values

ROUNDS = 60
SETTLED = 1e-9  # rad, or fraction of the scale: far below any click


@dataclass(frozen=True)
class Solver:
    """Finds the camera for every row of a batch of inputs.

    scales: those that can be used, weights one each. pitch_solved: whether plumb lines give the pitch, which
    is a prior otherwise. start: a camera of one row to begin from: fewer rounds, the same camera.
    """

    setting: Setting
    priors: Priors
    lines: PlumbLines
    scales: tuple[ScaleEntry, ...] = ()
    weights: tuple[float, ...] = ()
    pitch_solved: bool = False
    start: Pose | None = None

    @property
    def marks_at(self) -> set[At]:
        """The points on which the camera's attitude and scale rest."""
        return self.lines.marks_at | {scale.at(mark) for scale in self.scales for mark in scale.marks}

    def pose(self, values: Values) -> Pose:
        """The camera for each row; nan where it cannot be solved, and nan is refused."""
        with np.errstate(all="ignore"):
            return self._solved(values)

    def _solved(self, values: Values) -> Pose:
        """The camera for each row, by repeated substitution.

        Roll (and pitch, where two plumb lines or more give it) from the plumb lines, then the scale in the
        camera so levelled, then the focal length f = D/s where the card has none, until nothing moves. Rows
        that do not settle are nan.
        """
        ends = self.lines.ends(values)
        scales = [entry.ready(values) for entry in self.scales]
        roll = values[self.priors.roll] if not ends else np.zeros_like(ends[0][0])
        pitch = np.zeros_like(roll) if self.pitch_solved else values[self.priors.pitch]
        pose = self._first(roll, pitch, values)
        step = np.full_like(roll, np.inf)
        for _ in range(ROUNDS):
            attitude = pose.attitude
            if ends:
                attitude = self.lines.levelled(attitude, ends, values, self.pitch_solved)
            scaled = self._scaled(attitude, pose, scales, values)
            step, pose = _moved(pose, scaled), scaled
            if not np.any(step > SETTLED):
                break
        return pose.where(step <= 1e3 * SETTLED)

    def _first(self, roll: FloatArray, pitch: FloatArray, values: Values) -> Pose:
        distance = values[self.priors.distance] if self._distance_is_read else np.full_like(roll, DISTANCE)
        start = self.start
        focal = self.setting.lens.focal or ASSUMED_FOCAL * max(self.setting.size)
        if start is not None:
            roll = np.full_like(roll, start.attitude.roll[0]) if self.lines else roll
            pitch = np.full_like(roll, start.attitude.pitch[0]) if self.pitch_solved else pitch
            focal = start.attitude.focal[0]
        return _pose(Attitude(roll, pitch, roll), np.asarray(focal), distance, distance / focal)

    @property
    def _distance_is_read(self) -> bool:
        """False where focal length and scale give the distance: D = f s."""
        return self.setting.camera.distance is not None or self.priors.focal is None or not self.scales

    def _scaled(self, attitude: Attitude, pose: Pose, scales: list[ReadyScale], values: Values) -> Pose:
        priors = self.priors
        distance = values[priors.distance] if self._distance_is_read else pose.distance
        if not scales:
            focal = values[priors.focal or priors.assumed_focal]
            return _pose(attitude, focal, distance, distance / focal)
        each = [scale.metres(attitude, distance) for scale in scales]
        metres = each[0] if len(each) == 1 else np.average(np.stack(each), axis=0, weights=self.weights)
        if priors.focal is None:
            return _pose(attitude, distance / metres, distance, metres)
        focal = values[priors.focal]
        return _pose(attitude, focal, distance if self._distance_is_read else focal * metres, metres)


def _pose(attitude: Attitude, focal: FloatArray, distance: FloatArray, metres: FloatArray) -> Pose:
    """A pose whose every part has a row for each row of the batch."""
    parts = attitude.roll, focal, distance, metres
    zero = np.zeros(np.broadcast_shapes(*(np.shape(part) for part in parts)))
    return Pose(
        Attitude(attitude.roll + zero, attitude.pitch + zero, focal + zero), distance + zero, metres + zero
    )


def _moved(before: Pose, after: Pose) -> FloatArray:
    """The step of each row between two rounds, the largest of rad and fractions of scale and distance."""
    steps = [np.abs(after.metres / before.metres - 1), np.abs(after.distance / before.distance - 1)]
    steps.append(np.abs(after.attitude.roll - before.attitude.roll))
    steps.append(np.abs(after.attitude.pitch - before.attitude.pitch))
    return np.asarray(np.max(steps, axis=0))
