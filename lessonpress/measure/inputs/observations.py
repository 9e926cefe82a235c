"""Where marks are in the pictures, as inputs: clicks, tracked places, placings of the room's marks."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At, KnownLength, Motion, Scale, Setting, Standing
from lessonpress.measure.inputs.suggested import AXES, Common, axes_of, commons
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import RefusedError
from lessonpress.records import Observation

CLICK_U = 1.5 / 720  # of the picture's shorter side, each axis
LEAST_CLICK_U = 0.5  # px
BALL = "ball"
MOST_SCATTER = 5.0  # of a click's error, between placings of one mark of the room


@dataclass(frozen=True)
class _Placing:
    """An observation as inputs, across and down. own: of this place. shared: of the click it came from, and
    what that has in common with others.
    """

    observation: Observation
    own: tuple[Quantity, Quantity]
    shared: tuple[Common, ...] = ()

    @property
    def u(self) -> float:
        """Standard uncertainty, px, of the axis on which it is larger."""
        shared = [one.u for one in self.shared]
        return max(math.hypot(own.u, *(u[axis] for u in shared)) for axis, own in enumerate(self.own))


class Observations:
    """Where a clip's marks were observed, by mark and frame, and by hand alone; and as inputs.

    Offsets are px right and px up of the centre of the reference picture, carried there by the camera's
    motion, as the lens shows them. body_u: px within which no eye takes a point of the body again.
    """

    def __init__(self, setting: Setting, observations: Iterable[Observation], body_u: float = 0.0) -> None:
        self.setting = setting
        self.body_u = body_u
        self._things = {BALL, *setting.room, *_of_scales(setting.scales)}
        self.motion = None if setting.camera.still else setting.motion
        self.by_mark: dict[str, dict[int, Observation]] = {}
        self.hand: dict[tuple[str, int], Observation] = {}
        self._placings: dict[Observation, _Placing] = {}
        for observation in observations:
            self._take(observation)

    def _take(self, observation: Observation) -> None:
        frames = self.by_mark.setdefault(observation.mark, {})
        if not observation.tracked:
            self.hand[observation.mark, observation.frame] = observation
        earlier = frames.get(observation.frame)
        if earlier is None or (earlier.tracked and not observation.tracked):
            frames[observation.frame] = observation

    def click_u(self, u: float | None) -> float:
        """Standard uncertainty of a hand-placed point of the room, px for each axis."""
        return max(LEAST_CLICK_U, CLICK_U * min(self.setting.size) if u is None else u)

    @property
    def body_click_u(self) -> float:
        """Standard uncertainty of a point of the body that was clicked once, px for each axis."""
        return max(self.click_u(None), self.body_u)

    def least_u(self, mark: str) -> float:
        """What no larger picture and no further click betters, px: a thing's edge can be seen to a pixel."""
        return 0.0 if mark in self._things else self.body_u

    def known(self, mark: str) -> bool:
        """Whether the mark was ever placed, or every member of the middle was."""
        return all(member in self.by_mark for member in self.members(mark))

    def members(self, mark: str) -> tuple[str, ...]:
        """The marks whose middle this name is; a mark is its own only member."""
        return tuple(self.setting.middles.get(mark, (mark,)))

    def observations_of(self, at: At) -> list[Observation]:
        """What places this mark at this frame: one observation, or all placings of a mark of the room.

        Refuses when there is none.
        """
        frames = self.by_mark.get(at.mark, {})
        if at.mark in self.setting.room and frames:
            return [frames[frame] for frame in sorted(frames)]
        if at.frame in frames:
            return [frames[at.frame]]
        raise RefusedError(
            f"{at.mark} is not marked on frame {at.frame}",
            f"place {at.mark} on frame {at.frame}, or track it there",
        )

    def placed_within(self, at: At) -> float:
        """Standard uncertainty of a mark or middle, px for each axis: of all that places it the largest.

        That of a tracked place, and of the click it was carried from, together. Refuses where none places it.
        """
        placings = (
            self._placing(observation)
            for member in self.members(at.mark)
            for observation in self.observations_of(At(member, at.frame))
        )
        return max(one.u for one in placings)

    def _placing(self, observation: Observation) -> _Placing:
        if observation not in self._placings:
            self._placings[observation] = self._made(observation)
        return self._placings[observation]

    def _made(self, observation: Observation) -> _Placing:
        if not observation.tracked:
            return self._clicked(observation)
        where = f"{self.setting.clip}/track/{observation.mark}/{observation.frame}"
        words = f"tracking of {observation.mark}, frame {observation.frame}"
        u = observation.u or 0.0
        own = _of_axes(observation, where, words, (u, u))
        click = self._clicked(self._origin(observation))
        return _Placing(observation, own, (Common(*click.own), *click.shared))

    def _origin(self, observation: Observation) -> Observation:
        """The click a tracked place was carried from; one of default error where it is not known."""
        origin = observation.frame if observation.origin is None else observation.origin
        named = self.hand.get((observation.mark, origin))
        unknown = -1 if observation.origin is None else origin
        return named or Observation(observation.mark, unknown, 0.0, 0.0)

    def _clicked(self, observation: Observation) -> _Placing:
        """A click, or a suggested place, of whose u a part is shared; no better picture narrows that."""
        least = self.least_u(observation.mark)
        if not observation.suggested:
            u = max(self.click_u(observation.u), least)
            return _Placing(observation, self._click(observation, (u, u), (least, least)))
        across, down = (
            max(self.click_u(None if observation.u is None else times * observation.u), least)
            for times in axes_of(self.setting, observation.mark)
        )
        shared = commons(self.setting, observation, (across, down))
        errors = self.setting.suggested
        share = math.sqrt(errors.own) if shared and errors is not None else 1.0
        own = share * across, share * down
        return _Placing(observation, self._click(observation, own, own), shared)

    def _click(
        self, observation: Observation, u: tuple[float, float], least: tuple[float, float]
    ) -> tuple[Quantity, Quantity]:
        where = f"{self.setting.clip}/click/{observation.mark}/{observation.frame}"
        frame = f", frame {observation.frame}" if observation.frame >= 0 else ""
        what = "suggested place of" if observation.suggested else "click on"
        assumption = ""
        if observation.suggested:
            assumption = f"{observation.mark}{frame}, lies where it was suggested; no hand placed it"
        return _of_axes(observation, where, f"{what} {observation.mark}{frame}", u, assumption, least)

    def frames_of(self, at: At) -> set[int]:
        """The frames whose pictures place this mark."""
        return {
            observation.frame
            for member in self.members(at.mark)
            for observation in self.observations_of(At(member, at.frame))
        }

    def check_frames(self, frames: Iterable[int]) -> None:
        """Refuses points of several pictures when the camera was neither still nor is its motion known."""
        if self.motion is not None:
            self._check_registered(frames)
        if self.setting.camera.still or self.motion is not None or len(set(frames)) < 2:
            return
        raise RefusedError(
            "the camera's motion between the pictures is not known",
            "write still: true under camera on the card if it stood on a tripod",
        )

    def _check_registered(self, frames: Iterable[int]) -> None:
        assert self.motion is not None
        lost = sorted(f for f in set(frames) if not np.isfinite(self.motion.to_reference[f]).all())
        if lost:
            raise RefusedError(
                f"the camera's motion is not known on frame {', '.join(map(str, lost))}",
                "choose another frame, or write still: true under camera on the card if it stood on a tripod",
            )

    def scatter(self) -> Iterator[str]:
        """A warning for every mark of the room whose placings do not agree, carried to one picture."""
        for mark in sorted(self.setting.room & self.by_mark.keys()):
            placings = list(self.by_mark[mark].values())
            seen = [self.moved((s.x, s.y), s.frame, placings[0].frame) for s in placings]
            middle = _mean(seen)
            apart = max(math.dist(middle, position) for position in seen)
            if len(placings) > 1 and apart > MOST_SCATTER * self.click_u(None):
                yield f"the placings of {mark} lie {apart:.0f} px apart: it moved, or one is misplaced"

    def rests(self, mark: str, frame: int) -> bool:
        """Whether a mark that is to lie still until impact does so on a frame: at rest where it lay before.

        Places before impact (all of them where no impact is known) must agree with each other and with that
        of the frame, carried to one picture, to what clicks allow.
        """
        places = self.by_mark.get(mark, {})
        impact = self.setting.impact
        if frame not in places or (impact is not None and frame > impact):
            return False
        resting = [f for f in sorted(places) if impact is None or f < impact] or [frame]
        allowed = MOST_SCATTER * self.click_u(None)
        seen = [self.moved((places[f].x, places[f].y), f, frame) for f in {*resting, frame}]
        return all(math.dist(_mean(seen), position) <= allowed for position in seen)

    def shown(self, at: At, values: Values) -> list[Pair]:
        """Every placing of one mark (not a middle) as an offset, as the lens shows it."""
        placings = [self._placing(observation) for observation in self.observations_of(at)]
        return [self._shown(placing, values) for placing in placings]

    def shown_mean(self, at: At, values: Values) -> Pair:
        """The mean of `shown` over the placings."""
        pairs = self.shown(at, values)
        p, q = (np.asarray(sum(pair[axis] for pair in pairs) / len(pairs)) for axis in (0, 1))
        return p, q

    def _shown(self, placing: _Placing, values: Values) -> Pair:
        x, y = (values[quantity] for quantity in placing.own)
        for one in placing.shared:
            x = x + one.times[0] * (values[one.across] - one.across.value)
            y = y + one.times[1] * (values[one.down] - one.down.value)
        if self.motion is None:
            return self.from_centre(x, y)
        frame = placing.observation.frame
        x, y = carried(self.motion, x, y, frame)
        across, down = (values[slip] for slip in self.slips(frame))
        return self.from_centre(x + across, y + down)

    def slips(self, frame: int) -> tuple[Quantity, ...]:
        """The inputs for how well a frame is laid on the reference frame, common to all its points."""
        if self.motion is None:
            return ()
        u = 0.0 if frame == self.motion.reference else float(self.motion.residual[frame])
        where, words = f"{self.setting.clip}/motion/{frame}", f"camera motion, frame {frame}"
        return tuple(Quantity(f"{where}/{axis}", f"{words}, {way}", 0.0, u, "px") for axis, way in AXES)

    def from_centre(self, x: FloatArray, y: FloatArray) -> Pair:
        """A point of the reference picture, px, as an offset."""
        centre = self.setting.centre
        return x - centre[0], centre[1] - y

    def best(self, at: At) -> tuple[float, float]:
        """Where the mark (or middle) is in the picture of its frame, px, as placed."""
        points = [self._best_of(At(member, at.frame)) for member in self.members(at.mark)]
        return _mean(points)

    def _best_of(self, at: At) -> tuple[float, float]:
        observations = self.observations_of(at)
        return _mean([self.moved((s.x, s.y), s.frame, at.frame) for s in observations])

    def moved(self, point: tuple[float, float], start: int, end: int) -> tuple[float, float]:
        """A point of the room seen at `start`, where it is at `end`; the same place for a still camera."""
        motion = self.motion
        if motion is None or start == end:
            return point
        there = motion.to_reference[start] @ np.array([*point, 1.0])
        back = np.linalg.solve(motion.to_reference[end], there)
        return float(back[0] / back[2]), float(back[1] / back[2])


def _of_axes(
    observation: Observation,
    where: str,
    words: str,
    u: tuple[float, float],
    assumption: str = "",
    least: tuple[float, float] = (0.0, 0.0),
) -> tuple[Quantity, Quantity]:
    """A place's inputs, across and down, each with its u and least u, px."""
    across, down = (
        Quantity(
            f"{where}/{axis}",
            f"{words}, {way}",
            getattr(observation, axis),
            u[at],
            "px",
            assumption=assumption,
            least=least[at],
        )
        for at, (axis, way) in enumerate(AXES)
    )
    return across, down


def _of_scales(scales: Iterable[Scale]) -> Iterator[str]:
    """The marks of things whose length is known."""
    for scale in scales:
        if not isinstance(scale, Standing):
            yield from scale.between if isinstance(scale, KnownLength) else scale.corners


def is_place(quantity: Quantity) -> bool:
    """Whether an input is where a mark was placed, suggested or tracked."""
    return any(f"/{about}/" in quantity.name for about in ("click", "suggested", "track"))


def _mean(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)


def carried(motion: Motion, x: FloatArray, y: FloatArray, frame: int) -> Pair:
    """Picture points of a frame in the reference picture: the frame's homography on (x, y, 1)."""
    h = motion.to_reference[frame]
    w = h[2, 0] * x + h[2, 1] * y + h[2, 2]
    return (h[0, 0] * x + h[0, 1] * y + h[0, 2]) / w, (h[1, 0] * x + h[1, 1] * y + h[1, 2]) / w
