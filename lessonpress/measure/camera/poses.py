"""The solved camera for whatever values a model is asked with, each solution found once and kept.

A number's first order moves one input at a time, and most inputs are no business of the camera's: their rows
have the best camera, and the rows of the camera's own inputs are the same for every number of the clip.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lessonpress.measure.camera.pinhole import Attitude, Pose
from lessonpress.measure.camera.solver import Solver
from lessonpress.measure.uncertainty.propagation import Recorded, Steps, Values
from lessonpress.measure.uncertainty.quantities import BestValues, Draws, Quantity, SharedInputs


class Poses:
    """Cameras of one clip. best: the best values; all other solutions start from their camera."""

    def __init__(self, solver: Solver, inputs: SharedInputs) -> None:
        self.best = BestValues()
        self._from_priors = solver
        self._inputs = inputs
        self._drawn: dict[tuple[int, int], Pose] = {}
        self._last: tuple[Steps | None, Pose | None] = (None, None)

    def of(self, values: Values) -> Pose:
        """The camera for each row of these values."""
        best, read = self._best
        if isinstance(values, BestValues):
            return best
        if isinstance(values, Recorded):
            values.record(read)
            return best
        if isinstance(values, Steps):
            return self._of_steps(values, best)
        if isinstance(values, Draws):
            return self._of_draws(values)
        return self._solver.pose(values)

    @cached_property
    def _best(self) -> tuple[Pose, tuple[Quantity, ...]]:
        """The camera at the best values, and the inputs that it rests on."""
        recorded = Recorded()
        return self._from_priors.pose(recorded), tuple(recorded)

    @cached_property
    def _solver(self) -> Solver:
        return replace(self._from_priors, start=self._best[0])

    @cached_property
    def _stepped(self) -> tuple[Steps, Pose]:
        """The camera's own inputs moved one at a time, and a camera for each row."""
        own = Steps(self._best[1])
        return own, self._solver.pose(own)

    def _of_steps(self, values: Steps, best: Pose) -> Pose:
        """Rows of the camera's own inputs as solved for them, the best camera in all others."""
        made_of, last = self._last
        if made_of is values and last is not None:  # each mark of a number asks for the same
            return last
        own, solved = self._stepped
        row_of = {quantity: row for row, quantity in enumerate(own.uncertain)}
        up = np.array([row_of.get(quantity, -1) for quantity in values.uncertain], dtype=int)
        down = np.where(up < 0, -1, up + len(own.uncertain))
        pose = _rows(solved, best, np.concatenate([up, down]))
        self._last = values, pose
        return pose

    def _of_draws(self, values: Draws) -> Pose:
        """Draws of one count and seed are the same, whichever number they were made for."""
        kind = values.count, values.seed
        if kind not in self._drawn:
            self._drawn[kind] = self._solver.pose(self._inputs.draws(*kind))
        return self._drawn[kind]


def _rows(solved: Pose, best: Pose, rows: NDArray[np.int_]) -> Pose:
    """A camera for each row: that of `solved` at its number, that of `best` for −1."""

    def taken(part: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.concatenate([part, other])[rows]

    a, b = solved.attitude, best.attitude
    attitude = Attitude(taken(a.roll, b.roll), taken(a.pitch, b.pitch), taken(a.focal, b.focal))
    return Pose(attitude, taken(solved.distance, best.distance), taken(solved.metres, best.metres))
