"""A clip with its inputs, its solved camera and its points in the room: what every kind of measure asks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from lessonpress.measure.body.depths import Span
from lessonpress.measure.camera.pinhole import Pose
from lessonpress.measure.formulas import geometry
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At, Setting
from lessonpress.measure.limbs import Limbs, Together
from lessonpress.measure.numbers.units import Units, open_length
from lessonpress.measure.second.swings import Swings
from lessonpress.measure.second.view import SecondView
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Model, Values
from lessonpress.measure.uncertainty.refusal import RefusedError
from lessonpress.records import Observation

Linked = Mapping[At, Together] | None
MOST_TOLD = 12  # marks of a number whose depths are listed one by one


class Scene(Sight):
    """One clip made ready for measuring: what it shows by itself, and what other clips show of its depths.

    units: those of worked formulas. second: the view of the same swing from another clip, by which depths are
    seen, or None. swings: other swings of the same golfer from the other side, or None.
    """

    def __init__(
        self,
        setting: Setting,
        observations: Iterable[Observation],
        units: Units = "in",
        second: Sight | None = None,
        swings: Sequence[Sight] = (),
    ) -> None:
        super().__init__(setting, observations)
        self.units = units
        self.second = None if second is None else SecondView(self, second)
        self.swings = Swings(self, swings) if swings else None
        self.limbs = Limbs(self, self._unlinked, self._expected, self._tabled)

    @property
    def beside(self) -> SecondView | Swings | None:
        """What shows depths beside the clip itself: the same swing where it can, else other swings."""
        for beside in (self.second, self.swings):
            if beside is not None and beside.usable:
                return beside
        return None

    # points in the room

    def placed(
        self, values: Values, points: Sequence[At], *, goalward: bool = True, span: Span | None = None
    ) -> list[Pair]:
        """Marks and middles in the room, m: x level and positive toward the goal, y up.

        goalward: False leaves x to the right of the picture. span: the first and last frame of a motion,
        along which a mark's own depth is one smooth unknown. A middle is the mean of its members.
        """
        pose = self.poses.of(values)
        right = self.setting.positive_right if goalward else 1
        linked = self._linked(points) if span is None else {}
        places = [
            [self._place(one, values, pose, span, linked) for one in self._members(at)] for at in points
        ]
        return [(right * x, y) for x, y in map(geometry.mean, places)]

    def _linked(self, points: Sequence[At]) -> Linked:
        """By mark the others of these points that lengths link it to, of those that any are linked to."""
        if self.second is not None and self.second.usable:
            return {}
        return self.limbs.linked(member for at in points for member in self._members(at))

    def _members(self, at: At) -> list[At]:
        return [At(mark, at.frame) for mark in self.observations.members(at.mark)]

    def _place(self, at: At, values: Values, pose: Pose, span: Span | None, linked: Linked) -> Pair:
        p, q = self.optics.offset(at, values)
        depth = self.depth(at, values, pose, span, linked)
        placed = pose.placed(p, q, depth)
        if self.beside is not None:
            size = values[self.beside.scaled]
            placed = placed[0] * size, placed[1] * size
        if self.observations.motion is None:
            return placed
        frames = sorted(self.observations.frames_of(at))
        return self.sway.moved(placed, pose.distance - depth, frames[0], values, span)

    def in_space(
        self, at: At, values: Values, span: Span | None = None
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """A mark or middle in space, m: level toward the goal, up, and toward the camera from the plane.

        span: the first and last frame of a motion.
        """
        pose = self.poses.of(values)
        linked: Linked = None if self.second is None or not self.second.usable else {}
        places = [self._place(member, values, pose, span, linked) for member in self._members(at)]
        deep = [self.depth(member, values, pose, span) for member in self._members(at)]
        x, y = geometry.mean(places)
        return self.setting.positive_right * x, y, np.asarray(sum(deep) / len(deep))

    def on_the_floor(self, level: FloatArray, toward_camera: FloatArray) -> Pair:
        """What is level and toward this camera as toward the target and toward the ball, m.

        A camera across the target line stands on the ball's side or behind the golfer, one along it behind
        the ball or before it.
        """
        view = self.setting.view
        if self.setting.goal == "target":
            return level, -toward_camera if view == "from-behind" else toward_camera
        return toward_camera if view == "from-target" else -toward_camera, level

    def depth(
        self, at: At, values: Values, pose: Pose, span: Span | None = None, linked: Linked = None
    ) -> FloatArray:
        """Depth of one mark toward the camera, m: the second view's where it is better.

        linked: the marks of a number that lengths link to others of it, None for all that are linked at all.
        """
        if self.second is not None and self.second.knows_better(at, span):
            return self.second.depth(at, values)
        if span is not None:
            return self.depth_alone(at, values, pose, span, self._known_along(at.mark, span))
        together = self.limbs.linked_to(at) if linked is None else linked.get(at)
        return self._unlinked(at, values) if together is None else self.limbs.depth(at, values, together)

    def _known_along(self, mark: str, span: Span) -> Mapping[int, Model]:
        """The depths that other swings show along a motion; none where they do not show both its ends.

        A depth whose ends come from unlike sources would err as if the body had moved so.
        """
        if self.swings is None or span[0] == span[1]:
            return {}
        known = self.swings.known(mark)
        within = {frame: model for frame, model in known.items() if span[0] <= frame <= span[1]}
        return within if {*span} <= within.keys() else {}

    def _unlinked(self, at: At, values: Values) -> FloatArray:
        """Depth of a mark without what the body's lengths say: by other swings, or by the clip itself."""
        if self.swings is not None and self.swings.knows_better(at):
            return self.swings.depth(at, values)
        return self.depth_alone(at, values, self.poses.of(values))

    def _tabled(self, at: At) -> bool:
        """Whether no other swing shows such a depth, and no card says it."""
        if at.mark in self.setting.depth:
            return False
        return self.swings is None or not self.swings.knows_better(at)

    def _expected(self, at: At, values: Values) -> FloatArray:
        """The best value of such a depth, which follows the stature where the posture gives it."""
        if not self._tabled(at):
            return self._unlinked(at, self.best)
        return np.asarray(self.depths.row(at.mark, at.frame).depth * values[self.depths.stature])

    def depths_seen(self, points: Sequence[At]) -> Iterator[str]:
        """For each mark whose depth other clips give: what it is, beside what this clip by itself has.

        Of a way along many pictures none is said.
        """
        members = dict.fromkeys(
            At(mark, at.frame) for at in points for mark in self.observations.members(at.mark)
        )
        if len(members) > MOST_TOLD:
            return
        for at in members:
            beside = next((one for one in (self.second, self.swings) if one and one.knows_better(at)), None)
            if beside is not None:
                yield beside.words(at)

    def best_span(
        self, a: At, b: At, *, goalward: bool = True, among: Sequence[At] = ()
    ) -> tuple[float, float]:
        """The vector from a to b at the best values, m. among: all points of the number that it is shown for.

        Which of them there are says which depths lengths tell.
        """
        start, end, *_ = self.placed(self.best, (a, b, *among), goalward=goalward)
        dx, dy = geometry.apart(start, end)
        return float(dx[0]), float(dy[0])

    def tracked(self, mark: str, first: int, last: int) -> list[int]:
        """The frames from first to last on which a mark (or every member of a middle) is placed."""
        frames = set.intersection(
            *(set(self.observations.by_mark.get(m, {})) for m in self.observations.members(mark))
        )
        return sorted(frame for frame in frames if first <= frame <= last)

    @property
    def frame_time(self) -> float:
        """Seconds from one captured picture to the next, as a rule (median). ValueError without times."""
        steps = np.diff(np.array(self.setting.times or ()))
        if not np.any(steps > 0):
            raise ValueError("the clip's times are not known")
        return float(np.median(steps[steps > 0]))

    # what is refused

    def check_points(self, points: Sequence[At]) -> None:
        """Refuses unmarked points, and points of pictures between which the camera may have moved."""
        if not points:
            return
        if self.refused is not None:
            raise RefusedError(self.refused.reason, self.refused.way_out)
        own = {frame for at in points for frame in self.observations.frames_of(at)}
        solved = {frame for at in self.camera.solver.marks_at for frame in self.observations.frames_of(at)}
        solved |= {frame for at in self.optics.marks_at for frame in self.observations.frames_of(at)}
        flat = self.setting.view == "overhead"
        self.observations.check_frames(own if flat else own | solved)
        if self.observations.motion is not None and len(own) > 1:
            self.sway.check()

    def check_times(self) -> None:
        """Refuses what rests on the times between pictures where those are not known."""
        if self.setting.times is None:
            raise RefusedError("the clip's times are not known", "add filmed_at to the card")
        if self.setting.pace_within is None:
            raise RefusedError(
                "the repeated pictures leave no even pace, so that the time between pictures is not known",
                "take the file that the camera wrote, or add filmed_at to the card",
            )

    def check_lengths(self) -> None:
        """Refuses lengths where the clip has no usable scale."""
        refused = self.lengths_refused
        if refused is not None:
            raise RefusedError(refused.reason, refused.way_out)

    def check_faced(self, what: str) -> None:
        """Refuses what only a view across the target line shows."""
        if self.setting.goal == "ball":
            raise RefusedError(
                f"{what} is not seen from {self.setting.view}", "use a clip filmed from face on"
            )

    # words

    def length(self, metres: float) -> str:
        """A length, its units open; without a scale in px of the subject plane, of which ratios count."""
        if self.metric:
            return open_length(metres)
        return f"{metres / float(self.pose.metres[0]):.1f} px".replace("-", "−")
