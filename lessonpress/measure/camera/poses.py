"""The solved camera for whatever values a model is asked with, each solution found once and kept.

A number's first order moves one input at a time, and most inputs are no business of the camera's: their rows
have the best camera, and the rows of the camera's own inputs are the same for every number of the clip.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from lessonpress.measure.camera.pinhole import Attitude, Pose
from lessonpress.measure.camera.solver import Solver
from lessonpress.measure.uncertainty.propagation import Noted, Steps, Values
from lessonpress.measure.uncertainty.quantities import BestValues, Draws, Quantities


class Poses:
    """Cameras of one clip. best: the best values; all other solutions start from their camera."""

    def __init__(self, solver: Solver, quantities: Quantities) -> None:
        self.best = BestValues(quantities)
        self._solver = solver
        self._quantities = quantities
        self._best: Pose | None = None
        self._read: tuple[str, ...] = ()
        self._stepped: tuple[Steps, Pose] | None = None
        self._drawn: dict[tuple[int, int], Pose] = {}

    def of(self, values: Values) -> Pose:
        """The camera for each row of these values."""
        best = self._of_best()
        if values is self.best:
            return best
        if isinstance(values, Noted):
            values.note(self._read)
            return best
        if isinstance(values, Steps):
            return self._of_steps(values, best)
        if isinstance(values, Draws):
            return self._of_draws(values)
        return self._solver.pose(values)

    def _of_best(self) -> Pose:
        if self._best is None:
            noted = Noted(self._quantities)
            self._best = self._solver.pose(noted)
            self._read = tuple(noted)
            self._solver.begin_from(self._best)
        return self._best

    def _of_steps(self, values: Steps, best: Pose) -> Pose:
        """Rows of the camera's own inputs as solved for them, the best camera in all others."""
        if self._stepped is None:
            own = Steps(self._quantities, self._read)
            self._stepped = own, self._solver.pose(own)
        own, solved = self._stepped
        row_of = {name: row for row, name in enumerate(own.names)}
        up = np.array([row_of.get(name, -1) for name in values.names], dtype=int)
        down = np.where(up < 0, -1, up + len(own.names))
        return _rows(solved, best, np.concatenate([up, down]))

    def _of_draws(self, values: Draws) -> Pose:
        """Draws of one count and seed are the same, whichever number they were made for."""
        kind = values.count, values.seed
        if kind not in self._drawn:
            self._drawn[kind] = self._solver.pose(self._quantities.draws(*kind))
        return self._drawn[kind]


def _rows(solved: Pose, best: Pose, rows: NDArray[np.int_]) -> Pose:
    """A camera for each row: that of `solved` at its number, that of `best` for −1."""

    def taken(part: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.concatenate([part, other])[rows]

    a, b = solved.attitude, best.attitude
    attitude = Attitude(taken(a.roll, b.roll), taken(a.pitch, b.pitch), taken(a.focal, b.focal))
    return Pose(attitude, taken(solved.distance, best.distance), taken(solved.metres, best.metres))
