"""A clip surveyed: its camera solved once, then its measures one by one, and its lines in pictures."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from lessonpress.measure import plausible, projection
from lessonpress.measure.evaluation import refusing
from lessonpress.measure.inputs.setting import At, Setting
from lessonpress.measure.kinds.angle import angle
from lessonpress.measure.kinds.balance import balance
from lessonpress.measure.kinds.circle import circle
from lessonpress.measure.kinds.clock import clock
from lessonpress.measure.kinds.difference import difference
from lessonpress.measure.kinds.instead import Along, instead
from lessonpress.measure.kinds.path import path
from lessonpress.measure.kinds.plan import Spot, plan
from lessonpress.measure.kinds.space import angle_in_space, distance_in_space, turn_in_space
from lessonpress.measure.kinds.span import span
from lessonpress.measure.kinds.speed import speed
from lessonpress.measure.kinds.tempo import tempo
from lessonpress.measure.kinds.tilt import tilt
from lessonpress.measure.kinds.turn import turn
from lessonpress.measure.numbers.units import Units, in_units
from lessonpress.measure.optics.lens import SolvedBend
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty import budget
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import inputs_of
from lessonpress.measure.uncertainty.refusal import Refusal, RefusedError
from lessonpress.records import Axis, Observation, Point


class Survey:
    """The measures of one clip. Every method returns a `Measured`, or a `Refusal` that says why not.

    setting: how the clip was filmed. observations: its marks, hand-placed or tracked. units: those of worked
    formulas ("in" or "cm"). second: of the same swing filmed at once from another side; swings: of other
    swings of the same golfer from the other side (see `second`).
    Numbers are of the orthographic projection onto the subject plane, the upright plane through the subject's
    feet that faces the camera.
    """

    def __init__(
        self,
        setting: Setting,
        observations: Iterable[Observation],
        units: Units = "in",
        second: Survey | None = None,
        swings: Sequence[Survey] = (),
    ) -> None:
        self.setting = setting
        beside = None if second is None else second.scene
        self.scene: Scene = Scene(setting, observations, units, beside, [one.scene for one in swings])

    # what the clip's measures rest on

    @property
    def lengths_refused(self) -> Refusal | None:
        """Why this clip gives no lengths, or None."""
        return self.scene.lengths_refused

    @property
    def second_refused(self) -> Refusal | None:
        """Why the second view that was given is of no use, or None."""
        second = self.scene.second
        refused = None if second is None else second.refused
        return None if refused is None else self._in_units(refused)

    @property
    def swings_refused(self) -> Mapping[str, Refusal]:
        """By clip why another swing that was given is of no use."""
        refusals = {} if self.scene.swings is None else self.scene.swings.refusals
        return {clip: self._in_units(refused) for clip, refused in refusals.items()}

    def _in_units(self, refused: Refusal) -> Refusal:
        reason, way_out = (in_units(words, self.scene.units) for words in (refused.reason, refused.way_out))
        return Refusal(reason, way_out)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What does not fit together: scales that disagree, a body that cannot be."""
        scene = self.scene
        return (
            *scene.optics.warnings,
            *scene.camera.warnings,
            *scene.observations.scatter(),
            *(in_units(doubt, scene.units) for doubt in plausible.warnings(scene)),
        )

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What is assumed about this clip's camera, in words."""
        _, read = inputs_of(lambda values: self.scene.camera.solver.pose(values).metres)
        return budget.assumed(read)

    @property
    def lens(self) -> SolvedBend | None:
        """The lens's bending as solved from straight lines; None where the card states it, or none."""
        return self.scene.optics.solved

    # measures

    def tilt(self, a: At, b: At) -> Measured | Refusal:
        """Lean of the line a→b from the vertical, deg, positive when b leans toward the goal."""
        return refusing(lambda: tilt(self.scene, a, b), self.scene.units)

    def angle(self, a: At, v: At, b: At) -> Measured | Refusal:
        """Inside angle at v between the arms to a and b, deg, 0 to 180."""
        return refusing(lambda: angle(self.scene, a, v, b), self.scene.units)

    def angle_in_space(self, a: At, v: At, b: At) -> Measured | Refusal:
        """The same angle with what goes toward the camera in it, deg; needs a second view."""
        return refusing(lambda: angle_in_space(self.scene, a, v, b), self.scene.units)

    def distance_in_space(self, a: At, b: At) -> Measured | Refusal:
        """Length from a to b with what goes toward the camera in it, m; needs a second view."""
        return refusing(lambda: distance_in_space(self.scene, a, b), self.scene.units)

    def turn_in_space(self, then: tuple[At, At], now: tuple[At, At]) -> Measured | Refusal:
        """Rotation about the vertical of the line a→b, deg, positive toward the target.

        Needs a second view.
        """
        return refusing(lambda: turn_in_space(self.scene, then, now), self.scene.units)

    def plan(self, marks: Iterable[str], frame: int, base: int) -> tuple[Spot, ...] | Refusal:
        """Where marks of a frame are from above, about the middle of the feet of frame `base`."""
        try:
            return plan(self.scene, marks, frame, base)
        except RefusedError as refused:
            return self._in_units(refused.refusal)

    def clock(self, a: At, b: At, *, mirrored: bool = False) -> Measured | Refusal:
        """Direction a→b on a clock face in the picture as shown, deg clockwise from 12."""
        return refusing(lambda: clock(self.scene, a, b, mirrored=mirrored), self.scene.units)

    def distance(self, a: At, b: At, axis: Axis = "straight") -> Measured | Refusal:
        """Length from a to b, m: straight (≥ 0), or signed along the level or plumb axis."""
        return refusing(lambda: span(self.scene, a, b, axis), self.scene.units)

    def shift(self, then: At, now: At, axis: Axis = "level") -> Measured | Refusal:
        """Travel from where a mark was to where it is, m, signed along its axis; straight is ≥ 0."""
        return refusing(lambda: span(self.scene, then, now, axis), self.scene.units)

    def turn(self, then: tuple[At, At], now: tuple[At, At]) -> Measured | Refusal:
        """Rotation about the vertical of the line a→b since it stood square to the camera, deg, a magnitude.

        then, now: the same two marks at two frames.
        """
        return refusing(lambda: turn(self.scene, then, now), self.scene.units)

    def path(self, mark: str, start: int, end: int, *, space: bool = False) -> Measured | Refusal:
        """Length of a mark's way from frame to frame, m: the chords between its places.

        space: with what goes toward the camera in it, which needs a second view.
        """
        return refusing(lambda: path(self.scene, mark, start, end, space=space), self.scene.units)

    def speed(self, at: At, *, space: bool = False) -> Measured | Refusal:
        """Speed of a mark at a frame, m/s, ≥ 0, never read across impact. space: as for a path."""
        return refusing(lambda: speed(self.scene, at, space=space), self.scene.units)

    def circle(self, mark: str, start: int, end: int, near: At | None = None) -> Measured | Refusal:
        """Radius of the circle of a mark's way, m; with near, how far its centre lies from that mark."""
        return refusing(lambda: circle(self.scene, mark, start, end, near), self.scene.units)

    def balance(self, frame: int) -> Measured | Refusal:
        """Where the centre of mass lies between trail ankle (0 %) and lead ankle (100 %)."""
        return refusing(lambda: balance(self.scene, frame), self.scene.units)

    def instead(self, a: At, v: At, b: At, to: float, along: Along = "chord") -> Measured | Refusal:
        """How far b would have moved, m, had the inside angle at v been `to` deg."""
        return refusing(lambda: instead(self.scene, a, v, b, to, along), self.scene.units)

    def tempo(self, start: int, top: int, impact: int) -> Measured | Refusal:
        """(top − start) ÷ (impact − top) of three frames, a ratio."""
        return refusing(lambda: tempo(self.scene, start, top, impact), self.scene.units)

    @staticmethod
    def difference(first: Measured, second: Measured) -> Measured | Refusal:
        """first − second, of this clip or of two; way: "larger", "smaller" or "not distinguishable"."""
        return difference(first, second)

    # drawing

    def position(self, at: At, on: int | None = None) -> Point:
        """Where a mark or middle is in the picture of its frame, px.

        on: where that place of the room is on another frame. Raises KeyError for a mark not placed there.
        """
        return projection.position(self.scene, at, on)

    def placed_within(self, at: At) -> float:
        """Standard uncertainty of where a mark or middle is in the picture of its frame, px for each axis.

        Of several placings the largest. Refuses, by RefusedError, for a mark that is not placed there.
        """
        return self.scene.observations.placed_within(at)

    def carried(self, point: Point, start: int, end: int) -> Point:
        """A point of the room in the picture of frame `start`, where it is in that of `end`, px."""
        return self.scene.observations.moved(point, start, end)

    def fitted_circle(self, mark: str, start: int, end: int, on: int) -> tuple[Point, ...] | Refusal:
        """Centre of the circle of a mark's way, then its line, in the picture of frame `on`, px."""
        return projection.fitted_circle(self.scene, mark, start, end, on)

    def centre_of_mass(self, frame: int) -> Point | Refusal:
        """The body's centre of mass in the picture of a frame, px."""
        return projection.centre_of_mass(self.scene, frame)

    def instead_place(self, a: At, v: At, b: At, to: float) -> Point:
        """Where b would be in the picture of its frame, px, had the inside angle at v been `to` deg."""
        return projection.instead_place(self.scene, a, v, b, to)

    def px_per_metre(self, at: At | None = None) -> float | None:
        """Picture px along the level axis for a metre in the subject plane, at a mark's place or the centre.

        None where the clip gives no lengths.
        """
        return projection.px_per_metre(self.scene, at)

    def vertical(self, point: Point, frame: int | None = None) -> tuple[Point, ...]:
        """The room's vertical through a picture point, from far below to far above, px: two points or more.

        frame: whose picture; the reference frame when not given. Converges as the room's verticals do when
        the pitch is known, and bends as the lens bends it.
        """
        return projection.through(self.scene, point, (0.0, 1.0), frame)

    def level(self, point: Point, frame: int | None = None) -> tuple[Point, ...]:
        """The room's level through a picture point, from far left to far right, px: two points or more."""
        return projection.through(self.scene, point, (1.0, 0.0), frame)
