"""The camera of a clip, solved together from plumb lines, known lengths and stated distances."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np

from lessonpress.measure.body.depths import Depths
from lessonpress.measure.camera.pinhole import Attitude, Pose
from lessonpress.measure.camera.plumb import PlumbLines
from lessonpress.measure.camera.scales import ReadyScale, ScaleEntry
from lessonpress.measure.camera.sway import Sway
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.observations import Points
from lessonpress.measure.inputs.setting import ASSUMED_FOCAL, At, Setting, WallGrid
from lessonpress.measure.uncertainty.propagation import FirstOrder, Values, first_order
from lessonpress.measure.uncertainty.quantities import BestValues, Quantities, Quantity, limited
from lessonpress.measure.uncertainty.refusal import Refusal, RefusedError

ROLL_U = 2.0  # deg, without a plumb line
PITCH_U = 3.0  # deg, where plumb lines do not give it
DISTANCE, DISTANCE_U, LEAST_DISTANCE = 4.0, 1.0, 1.5  # m, where the card has none
FOCAL_U = 0.02  # of a stated focal length
ASSUMED_FOCAL_U = 0.2  # of the picture's longer side
NARROWEST = 4.0  # a known length must be this many times a click's error long in the picture
MOST_MISFIT = 0.03  # of a grid's half diagonal: its corners are misplaced or it does not face the camera
HIGHEST_PITCH = 30.0  # deg: beyond it the plumb lines are doubted
ROUNDS = 60
SETTLED = 1e-9  # rad, or fraction of the scale: far below any click


class Solver:
    """Finds the camera for every row of a batch of inputs.

    refused: why lengths cannot be given, or None. pitch_solved: whether plumb lines give the pitch.
    notes: assumptions by the name of the input that carries them. warnings: what does not fit together.
    """

    def __init__(
        self, setting: Setting, points: Points, depths: Depths, quantities: Quantities, notes: dict[str, str]
    ) -> None:
        self.setting, self.points, self.depths = setting, points, depths
        self.quantities, self.notes = quantities, notes
        self.larger = Sway(setting, quantities, notes).larger
        self.warnings: list[str] = []
        self.refused: Refusal | None = None
        self.lines = PlumbLines(setting, points, quantities)
        self.warnings.extend(self.lines.warnings)
        self.pitch_solved = False
        self.entries: list[ScaleEntry] = []
        self.weights: list[float] = []
        self._start: Pose | None = None
        self._prepare_inputs()
        self._prepare_scales()
        self.pitch_solved = self._pitch_can_be_solved()
        self._note_attitude()
        self._doubt()

    # what is known beforehand

    def _add(self, quantity: Quantity, note: str = "") -> str:
        if note:
            self.notes[quantity.name] = note
        return self.quantities.add(quantity)

    def _prepare_inputs(self) -> None:
        clip, lens, camera = self.setting.clip, self.setting.lens, self.setting.camera
        longer = max(self.setting.size)
        flat = self.setting.view == "overhead"
        roll_u = 0.0 if flat else math.radians(ROLL_U)
        self.roll = self._add(Quantity(f"{clip}/roll", "roll of the camera", 0.0, roll_u, "rad"))
        self.pitch = self._add(
            Quantity(f"{clip}/pitch", "pitch of the camera", 0.0, math.radians(PITCH_U), "rad")
        )
        self.focal: str | None = None
        if lens.focal is not None:
            self.focal = self._add(
                Quantity(f"{clip}/focal", "focal length", lens.focal, FOCAL_U * lens.focal, "px")
            )
        self.assumed_focal = self._add(
            Quantity(
                f"{clip}/assumed-focal",
                "focal length, assumed",
                ASSUMED_FOCAL * longer,
                ASSUMED_FOCAL_U * longer,
                "px",
                lowest=0.4 * longer,
            ),
            f"focal length {ASSUMED_FOCAL * longer:.0f} px, u {ASSUMED_FOCAL_U * longer:.0f} px",
        )
        self.distance = self._distance(camera.distance, camera.within)

    def _distance(self, stated: float | None, within: float | None) -> str:
        name, words = f"{self.setting.clip}/distance", "distance from the lens to the subject plane"
        if stated is None:
            note = f"camera distance {DISTANCE:.0f} m, u {DISTANCE_U:.0f} m"
            return self._add(
                Quantity(
                    name + "/assumed", words + ", assumed", DISTANCE, DISTANCE_U, "m", lowest=LEAST_DISTANCE
                ),
                note,
            )
        note = "camera distance within 5 %" if within is None else ""
        return self._add(limited(name, words, stated, 0.05 * stated if within is None else within, "m"), note)

    # what the plumb lines say

    def _pitch_can_be_solved(self) -> bool:
        """Whether the plumb lines give the pitch better than not knowing it."""
        if len(self.lines) < 2:
            return False
        self.pitch_solved = True
        try:
            u = first_order(lambda values: self.pose(values).attitude.pitch, self.quantities).u
        except (RefusedError, np.linalg.LinAlgError):
            u = math.inf
        self.pitch_solved = False
        return bool(u < math.radians(PITCH_U))

    def _note_attitude(self) -> None:
        lines = {0: "no plumb line", 1: "one plumb line"}.get(
            len(self.lines), "plumb lines too close together"
        )
        self.notes[self.pitch] = f"{lines}: pitch 0°, u {PITCH_U:.0f}°"
        self.notes[self.roll] = f"no plumb line: roll 0°, u {ROLL_U:.0f}°"

    def _doubt(self) -> None:
        """Warn of a grid whose corners do not fit and of plumb lines that make an unlikely camera."""
        best = BestValues(self.quantities)
        pose = self.pose(best)
        pitch = math.degrees(float(pose.attitude.pitch[0]))
        if self.pitch_solved and abs(pitch) > HIGHEST_PITCH:
            way = "up" if pitch > 0 else "down"
            self.warnings.append(f"the plumb lines make the camera look {way} by {abs(pitch):.0f}°")
        for index, entry in enumerate(self.entries):
            if isinstance(entry.scale, WallGrid):
                misfit = entry.ready(best).misfit(pose.attitude, pose.distance)
                self.entries[index] = replace(entry, misfit=misfit)
                if misfit > MOST_MISFIT:
                    self.warnings.append(f"{entry.words} does not look like a rectangle of its size")

    # scales

    def _prepare_scales(self) -> None:
        """Keep the scales that can be used, weigh them by their uncertainties, and compare them."""
        refusals = []
        for index, scale in enumerate(self.setting.scales):
            entry = ScaleEntry(
                self.setting, self.points, self.depths, self.quantities, self.larger, index, scale
            )
            try:
                self._check(entry)
            except RefusedError as refused:
                refusals.append(refused.refusal)
            else:
                self.entries.append(entry)
        if not self.entries:
            self.refused = (
                refusals[0]
                if refusals
                else Refusal(
                    "the clip has no scale", "add a known length near the golfer under scale on the card"
                )
            )
        self.weights = [1.0] * len(self.entries)
        if len(self.entries) > 1:
            self._weigh()

    def _check(self, entry: ScaleEntry) -> None:
        entry.refuse_unless_carried()
        entry.refuse_unless_stature()
        for mark in entry.marks:
            self.points.observations_of(entry.at(mark))
        places = [self.points.best(entry.at(mark)) for mark in entry.marks]
        if min(math.dist(a, b) for a, b in combinations(places, 2)) < NARROWEST * self.points.click_u(None):
            raise RefusedError(
                f"the ends of {entry.words} lie within their own uncertainty of each other",
                "mark a longer known length",
            )

    def _weigh(self) -> None:
        alone = [self._alone(index) for index in range(len(self.entries))]
        inverse = [(found.u / found.value) ** -2 for found in alone]
        self.weights = [weight / sum(inverse) for weight in inverse]
        for i, first in enumerate(alone):
            for j in range(i + 1, len(alone)):
                self._compare(i, j, first, alone[j])

    def _alone(self, index: int) -> FirstOrder:
        """The scale that one entry by itself gives."""
        solver = _copy_with(self, [self.entries[index]])
        return first_order(lambda values: solver.pose(values).metres, self.quantities)

    def _compare(self, i: int, j: int, first: FirstOrder, second: FirstOrder) -> None:
        difference = first.variable - second.variable
        if abs(difference.nominal_value) > 2 * difference.std_dev:
            percent = 100 * abs(first.value / second.value - 1)
            self.warnings.append(
                f"{self.entries[i].words} and {self.entries[j].words} disagree by {percent:.1f} %, "
                f"more than their uncertainties allow"
            )

    # the camera

    @property
    def marks_at(self) -> set[At]:
        """The points on which the camera's attitude and scale rest."""
        return self.lines.marks_at | {entry.at(mark) for entry in self.entries for mark in entry.marks}

    def pose(self, values: Values) -> Pose:
        with np.errstate(all="ignore"):  # what cannot be solved becomes nan, and nan is refused
            return self._solved(values)

    def _solved(self, values: Values) -> Pose:
        """The camera for each row, by repeated substitution.

        Roll (and pitch, where two plumb lines or more give it) from the plumb lines, then the scale in the
        camera so levelled, then the focal length f = D/s where the card has none, until nothing moves. Rows
        that do not settle are nan.
        """
        ends = self.lines.ends(values)
        scales = [entry.ready(values) for entry in self.entries]
        roll = values[self.roll] if not ends else np.zeros_like(ends[0][0])
        pitch = np.zeros_like(roll) if self.pitch_solved else values[self.pitch]
        pose = self._first(roll, pitch, values)
        step = np.full_like(roll, np.inf)
        for _ in range(ROUNDS):
            attitude = pose.attitude
            if ends:
                attitude = self.lines.levelled(attitude, ends, values, self.pitch_solved)
            found = self._scaled(attitude, pose, scales, values)
            step, pose = _moved(pose, found), found
            if not np.any(step > SETTLED):
                break
        return pose.where(step <= 1e3 * SETTLED)

    def _first(self, roll: FloatArray, pitch: FloatArray, values: Values) -> Pose:
        distance = values[self.distance] if self._distance_is_read else np.full_like(roll, DISTANCE)
        start = self._start
        focal = self.setting.lens.focal or ASSUMED_FOCAL * max(self.setting.size)
        if start is not None:
            roll = np.full_like(roll, start.attitude.roll[0]) if self.lines else roll
            pitch = np.full_like(roll, start.attitude.pitch[0]) if self.pitch_solved else pitch
            focal = start.attitude.focal[0]
        return self._pose(Attitude(roll, pitch, roll), np.asarray(focal), distance, distance / focal)

    def begin_from(self, pose: Pose) -> None:
        """Start later solutions from this one, of one row: fewer rounds, the same camera."""
        self._start = pose

    @property
    def _distance_is_read(self) -> bool:
        """False where focal length and scale give the distance: D = f s."""
        return self.setting.camera.distance is not None or self.focal is None or not self.entries

    def _scaled(self, attitude: Attitude, pose: Pose, scales: list[ReadyScale], values: Values) -> Pose:
        distance = values[self.distance] if self._distance_is_read else pose.distance
        if not scales:
            focal = values[self.focal or self.assumed_focal]
            return self._pose(attitude, focal, distance, distance / focal)
        found = [scale.metres(attitude, distance) for scale in scales]
        metres = found[0] if len(found) == 1 else np.average(np.stack(found), axis=0, weights=self.weights)
        if self.focal is None:
            return self._pose(attitude, distance / metres, distance, metres)
        focal = values[self.focal]
        return self._pose(attitude, focal, distance if self._distance_is_read else focal * metres, metres)

    @staticmethod
    def _pose(attitude: Attitude, focal: FloatArray, distance: FloatArray, metres: FloatArray) -> Pose:
        zero = np.zeros(
            np.broadcast_shapes(*(np.shape(part) for part in (attitude.roll, focal, distance, metres)))
        )
        return Pose(
            Attitude(attitude.roll + zero, attitude.pitch + zero, focal + zero),
            distance + zero,
            metres + zero,
        )


def _moved(before: Pose, after: Pose) -> FloatArray:
    """The step of each row between two rounds, the largest of rad and fractions of scale and distance."""
    steps = [np.abs(after.metres / before.metres - 1), np.abs(after.distance / before.distance - 1)]
    steps.append(np.abs(after.attitude.roll - before.attitude.roll))
    steps.append(np.abs(after.attitude.pitch - before.attitude.pitch))
    return np.asarray(np.max(steps, axis=0))


def _copy_with(solver: Solver, entries: list[ScaleEntry]) -> Solver:
    copy = object.__new__(Solver)
    copy.__dict__ = {**solver.__dict__, "entries": entries, "weights": [1.0]}
    return copy
