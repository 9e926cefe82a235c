"""A clip surveyed: its camera solved once, its measures asked for one by one, its standing lines drawn."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from lessonpress.measure import budget, geometry, signs
from lessonpress.measure.camera import Pose
from lessonpress.measure.depths import Depths
from lessonpress.measure.lens import distorted
from lessonpress.measure.measured import Measured
from lessonpress.measure.points import Points
from lessonpress.measure.propagation import (
    DRAWS,
    FirstOrder,
    Model,
    Values,
    first_order,
    holds,
    inputs_of,
    monte_carlo,
)
from lessonpress.measure.quantities import Draws, FloatArray, Quantities
from lessonpress.measure.refusal import Refusal, RefusedError
from lessonpress.measure.setting import At, Setting
from lessonpress.measure.solving import Solver
from lessonpress.measure.units import Units, length_words
from lessonpress.records.mark import Sighting
from lessonpress.records.measure import Axis, Budget, Dimension

Point = tuple[float, float]
Pair = tuple[FloatArray, FloatArray]
FIRST_ORDER = "first order (JCGM 100)"
MONTE_CARLO = f"Monte Carlo (JCGM 101), {DRAWS:,} draws".replace(",", "\u202f")
WIDEST_DIRECTION_U = 15.0  # deg: a line whose direction is less sure lies within its ends' uncertainty
SHORTEST = 4.0  # a straight length is first-order only where it is this many times its crosswise u
PIXELS = "px of the subject plane"


@dataclass(frozen=True)
class _Asked:
    """What a measure is before it is computed: its model, its kind of number, and how to show its working."""

    model: Model
    dimension: Dimension
    points: tuple[At, ...]
    formula: str
    worked: Callable[[float], str]
    axis: Axis | None = None
    period: float | None = None
    direction: bool = False


class Survey:
    """The measures of one clip. Every method returns a `Measured`, or a `Refusal` that says why not.

    setting: how the clip was filmed. sightings: its marks, hand-placed or tracked. units: those of worked
    formulas ("in" or "cm"). Numbers are of the orthographic projection onto the subject plane, the upright
    plane through the subject's feet that faces the camera.
    """

    def __init__(self, setting: Setting, sightings: Iterable[Sighting], units: Units = "in") -> None:
        self.setting = setting
        self.units = units
        self.quantities = Quantities()
        self.notes: dict[str, str] = {}
        self.points = Points(setting, sightings, self.quantities)
        self.depths = Depths(setting, self.quantities, self.notes)
        self.solver = Solver(setting, self.points, self.depths, self.quantities, self.notes)
        self._best_pose: Pose | None = None
        self._drawn_pose: dict[Draws, Pose] = {}

    # the camera

    @property
    def lengths_refused(self) -> Refusal | None:
        """Why this clip gives no lengths, or None."""
        return self.solver.refused

    @property
    def warnings(self) -> tuple[str, ...]:
        """What does not fit together: scales that disagree, a body that cannot be."""
        return tuple(self.solver.warnings)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What is assumed about this clip's camera, in words."""
        _, read = inputs_of(lambda values: self.solver.pose(values).metres, self.quantities)
        return budget.assumed(read, self.notes)

    @property
    def pose(self) -> Pose:
        """The solved camera at the best values, arrays of one element."""
        if self._best_pose is None:
            self._best_pose = self.solver.pose(_Best(self.quantities))
            self.solver.begin_from(self._best_pose)
        return self._best_pose

    def _pose_for(self, values: Values) -> Pose:
        """The camera for these inputs, kept for the best values and for draws."""
        if isinstance(values, _Best):
            return self.pose
        if not isinstance(values, Draws):
            return self.solver.pose(values)
        if values not in self._drawn_pose:
            self._drawn_pose[values] = self.solver.pose(values)
        return self._drawn_pose[values]

    # points

    def room(self, at: At, values: Values, pose: Pose) -> Pair:
        """A mark or middle in the room: x level toward the right of the picture, y up, m (see `metric`).

        A middle is the mean of its members, each at its own depth.
        """
        placed = [self._member(At(mark, at.frame), values, pose) for mark in self.points.members(at.mark)]
        return geometry.mean(placed)

    def _member(self, at: At, values: Values, pose: Pose) -> Pair:
        p, q = self.points.offset(at, values)
        return pose.placed(p, q, self._depth(at, values, pose))

    def _depth(self, at: At, values: Values, pose: Pose) -> FloatArray:
        entry = next((e for e in self.solver.entries if at.mark in e.marks), None)
        if entry is not None and at.mark not in self.setting.depth and entry.scale.frame is None:
            return entry.depth(at.mark, pose.distance, values)
        if at.mark in self.setting.room and at.mark not in self.setting.depth:
            return np.zeros_like(pose.distance)
        return self.depths.of(at.mark, at.frame, values)

    def _goalward(self, pair: Pair) -> Pair:
        return self.setting.positive_right * pair[0], pair[1]

    def _placed(self, values: Values, points: Sequence[At], *, goalward: bool = True) -> list[Pair]:
        pose = self._pose_for(values)
        pairs = [self.room(at, values, pose) for at in points]
        return [self._goalward(pair) for pair in pairs] if goalward else pairs

    @property
    def metric(self) -> bool:
        """Whether room coordinates are true metres; without a scale only their ratios are meant."""
        return self.solver.refused is None

    # measures

    def tilt(self, a: At, b: At) -> Measured | Refusal:
        """Lean of the line a→b from the vertical, deg, positive when b leans toward the goal."""

        def model(values: Values) -> FloatArray:
            return geometry.tilt(*self._placed(values, (a, b)))

        def worked(value: float) -> str:
            dx, dy = self._best_span(a, b)
            return f"atan2({self._length(dx)}, {self._length(dy)}) = {_degrees(value)}"

        asked = _Asked(
            model, "angle", (a, b), "θ = atan2(ΔX, ΔY)", worked, axis="level", period=360, direction=True
        )
        return self._answered(asked)

    def angle(self, a: At, v: At, b: At) -> Measured | Refusal:
        """Inside angle at v between the arms to a and b, deg, 0 to 180.

        The turn from one arm to the other is propagated with its sign, so that near 0° and 180° nothing is
        lost; the interval is then folded into 0..180.
        """
        return self._folded(a, v, b)

    def clock(self, a: At, b: At) -> Measured | Refusal:
        """Direction a→b on a clock face as filmed, deg clockwise from 12."""

        def model(values: Values) -> FloatArray:
            return geometry.clock(*self._placed(values, (a, b), goalward=False))

        def worked(value: float) -> str:
            dx, dy = self._best_span(a, b)
            dx *= self.setting.positive_right
            return f"atan2({self._length(dx)}, {self._length(dy)}) = {_degrees(value)}, 30° an hour"

        asked = _Asked(
            model,
            "clock",
            (a, b),
            "direction = atan2(ΔX to the right, ΔY), 30° an hour",
            worked,
            period=360,
            direction=True,
        )
        return self._answered(asked)

    def distance(self, a: At, b: At, axis: Axis = "straight") -> Measured | Refusal:
        """Length from a to b, m: straight (≥ 0), or signed along the level or plumb axis."""
        return self._span(a, b, axis)

    def shift(self, then: At, now: At, axis: Axis = "level") -> Measured | Refusal:
        """Travel from where a mark stood to where it is, m, signed along its axis; straight is ≥ 0."""
        return self._span(then, now, axis)

    # how they are computed

    def _span(self, a: At, b: At, axis: Axis) -> Measured | Refusal:
        measure = {"level": geometry.level, "plumb": geometry.plumb, "straight": geometry.straight}[axis]
        formula = {"level": "ΔX", "plumb": "ΔY", "straight": "√(ΔX² + ΔY²)"}[axis]

        def model(values: Values) -> FloatArray:
            return measure(*self._placed(values, (a, b)))

        def worked(value: float) -> str:
            dx, dy = self._best_span(a, b)
            if axis == "straight":
                return f"√(({self._length(dx)})² + ({self._length(dy)})²) = {self._length(value)}"
            return f"{'ΔX' if axis == 'level' else 'ΔY'} = {self._length(value)}"

        asked = _Asked(model, "length", (a, b), formula, worked, axis=axis)
        return self._refusing(lambda: self._length_measured(asked, a, b))

    def _length_measured(self, asked: _Asked, a: At, b: At) -> Measured:
        if self.solver.refused is not None:
            raise RefusedError(self.solver.refused.reason, self.solver.refused.way_out)
        if asked.axis == "straight":
            self._refuse_too_short(a, b)
        return self._measured(asked)

    def _refuse_too_short(self, a: At, b: At) -> None:
        """Refuses a straight length near zero: it cannot be below nothing, so its errors do not cancel."""
        self._check_points((a, b))

        def crosswise(values: Values) -> FloatArray:
            dx, dy = geometry.apart(*self._placed(values, (a, b)))
            return -ux * dy + uy * dx

        dx, dy = self._best_span(a, b)
        length = float(np.hypot(dx, dy))
        ux, uy = (dx / length, dy / length) if length else (1.0, 0.0)
        u = first_order(crosswise, self.quantities).u
        if length < SHORTEST * u:
            raise RefusedError(
                f"{self._length(length)} straight is too little against ± {self._length(2 * u)} crosswise",
                "measure it level or plumb, where a sign keeps a small length honest",
            )

    def _folded(self, a: At, v: At, b: At) -> Measured | Refusal:
        def model(values: Values) -> FloatArray:
            return geometry.signed_angle(*self._placed(values, (a, v, b)))

        def worked(value: float) -> str:
            first, second = self._best_span(v, a), self._best_span(v, b)
            arms = (np.degrees(np.arctan2(*first)), np.degrees(np.arctan2(*second)))
            turn = f"{_degrees(float(arms[1]))} − ({_degrees(float(arms[0]))})"
            return f"|{turn}| = {_degrees(value)}, the inside angle"

        asked = _Asked(
            model,
            "angle",
            (a, v, b),
            "α = |atan2(ΔX₂, ΔY₂) − atan2(ΔX₁, ΔY₁)|, at most 180°",
            worked,
            period=360,
            direction=True,
        )
        return self._refusing(lambda: self._fold(asked))

    def _fold(self, asked: _Asked) -> Measured:
        signed = self._measured(asked, words=False)
        sign = -1 if signed.value < 0 else 1
        ends = sorted((sign * signed.low, sign * signed.high))
        inside, turned = abs(signed.value), asked.model
        return Measured(
            **{
                **signed.__dict__,
                "value": inside,
                "low": max(0.0, ends[0]),
                "high": min(180.0, ends[1]),
                "variable": sign * signed.variable,
                "model": lambda values: sign * turned(values),
                "budget": Budget(
                    asked.formula, asked.worked(inside), signed.budget.shares, signed.budget.method
                ),
            }
        )

    def _answered(self, asked: _Asked) -> Measured | Refusal:
        return self._refusing(lambda: self._measured(asked))

    def _refusing(self, compute: Callable[[], Measured]) -> Measured | Refusal:
        try:
            return compute()
        except RefusedError as refused:
            return refused.refusal

    def _check_points(self, points: Iterable[At]) -> None:
        """Refuses unmarked points, and points of pictures between which the camera may have moved."""
        if self.setting.view == "overhead":
            frames = {frame for at in points for frame in self.points.frames_of(at)}
        else:
            frames = {frame for at in (*points, *self.solver.marks_at) for frame in self.points.frames_of(at)}
        self.points.check_frames(frames)

    def _check_view(self, asked: _Asked) -> None:
        flat = self.setting.view == "overhead"
        if flat and (asked.axis is not None or asked.dimension not in ("angle", "clock")):
            raise RefusedError(
                "seen from overhead there is no upright plane", "measure a clock direction or an inside angle"
            )

    def _measured(self, asked: _Asked, *, words: bool = True) -> Measured:
        self._check_view(asked)
        self._check_points(asked.points)
        found = first_order(asked.model, self.quantities, period=asked.period)
        if not np.isfinite(found.value) or not np.isfinite(found.u):
            raise RefusedError(
                "the camera cannot be solved from these marks",
                "check the marks of the plumb lines and scales",
            )
        if asked.direction and found.u > WIDEST_DIRECTION_U:
            raise RefusedError(
                "the ends lie within their own uncertainty of each other, so the line has no direction",
                "choose marks farther apart, or state their depths on the card",
            )
        low, high, k = self._interval(asked, found)
        method = FIRST_ORDER if k else MONTE_CARLO
        return Measured(
            value=found.value,
            dimension=asked.dimension,
            uncertainty=(high - low) / 2,
            k=k,
            low=low,
            high=high,
            axis=asked.axis,
            way=signs.way(found.value, asked.axis, self.setting.goal),
            plane=self.setting.plane,
            frames=tuple(sorted({at.frame for at in asked.points})),
            marks=tuple(dict.fromkeys(at.mark for at in asked.points)),
            assumed=budget.assumed(found.slopes, self.notes),
            budget=Budget(
                asked.formula,
                asked.worked(found.value) if words else "",
                budget.shares(found, self.quantities),
                method,
            ),
            clips=(self.setting.clip,),
            goal=self.setting.goal,
            variable=found.variable,
            model=asked.model,
            inputs=self.quantities,
            period=asked.period,
        )

    def _interval(self, asked: _Asked, found: FirstOrder) -> tuple[float, float, float | None]:
        """Ends of the 95 % interval and k, by Monte Carlo where trial draws contradict first order."""
        if holds(found, asked.model, self.quantities, period=asked.period):
            return found.value - 2 * found.u, found.value + 2 * found.u, 2.0
        drawn = monte_carlo(asked.model, self.quantities, period=asked.period)
        if not math.isfinite(drawn.low) or not math.isfinite(drawn.high):
            raise RefusedError(
                "the camera cannot be solved for all that its marks may be",
                "mark the plumb lines and scales again, farther apart",
            )
        return drawn.low, drawn.high, None

    # words

    def _best_span(self, a: At, b: At) -> tuple[float, float]:
        dx, dy = geometry.apart(*self._placed(_Best(self.quantities), (a, b)))
        return float(dx[0]), float(dy[0])

    def _length(self, metres: float) -> str:
        """A length in the site's units; without a scale in px of the subject plane, of which ratios count."""
        if self.metric:
            return length_words(metres, self.units)
        return f"{metres / float(self.pose.metres[0]):.1f} px".replace("-", "−")

    # drawing

    def place(self, at: At, on: int | None = None) -> Point:
        """Where a mark or middle stands in the picture of its frame, px.

        on: where that place of the room is on another frame. Raises KeyError for a mark not placed there.
        """
        try:
            best = self.points.best(at)
        except RefusedError as refused:
            raise KeyError(refused.refusal.reason) from None
        return best if on is None else self.points.moved(best, at.frame, on)

    def carried(self, point: Point, start: int, end: int) -> Point:
        """A point of the room in the picture of frame `start`, where it is in that of `end`, px."""
        return self.points.moved(point, start, end)

    def px_per_metre(self, at: At | None = None) -> float | None:
        """Picture px along the level axis for a metre in the subject plane, at a mark's place or the centre.

        None where the clip gives no lengths.
        """
        if not self.metric:
            return None
        x, y = self._in_plane(self.setting.centre if at is None else self.place(at))
        start, end = self._shown(x - 0.5, y), self._shown(x + 0.5, y)
        return float(np.hypot(end[0] - start[0], end[1] - start[1]))

    def vertical(self, point: Point, frame: int | None = None) -> tuple[Point, ...]:
        """The room's vertical through a picture point, as points from far below to far above, px."""
        return self._drawn(point, (0.0, 1.0))

    def level(self, point: Point, frame: int | None = None) -> tuple[Point, ...]:
        """The room's level through a picture point, as points from far left to far right, px."""
        return self._drawn(point, (1.0, 0.0))

    def _in_plane(self, point: Point) -> Point:
        p, q = self.points.centred(np.array([point[0]]), np.array([point[1]]))
        x, y = self.pose.placed(p, q, np.zeros(1))
        return float(x[0]), float(y[0])

    def _shown(self, x: float, y: float) -> Point:
        p, q = self.pose.seen(np.array([x]), np.array([y]), np.zeros(1))
        p, q = distorted(self.setting.lens, p, q)
        return float(self.setting.centre[0] + p[0]), float(self.setting.centre[1] - q[0])

    def _drawn(self, point: Point, along: Point) -> tuple[Point, ...]:
        x, y = self._in_plane(point)
        reach = 1.5 * max(self.setting.size) * float(self.pose.metres[0])
        return tuple(self._shown(x + t * along[0], y + t * along[1]) for t in (-reach, reach))


class _Best(dict[str, FloatArray]):
    """The best value of every input, one row."""

    def __init__(self, quantities: Quantities) -> None:
        super().__init__()
        self._quantities = quantities

    def __missing__(self, name: str) -> FloatArray:
        return np.array([self._quantities[name].value])


def _degrees(value: float) -> str:
    return f"{value:.1f}°".replace("-", "−")
