"""Where marks are in the pictures, as inputs: clicks, tracked places, placings of the room's marks."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from lessonpress.measure.lens import NO_BEND, Bend, bend_of, undistorted
from lessonpress.measure.propagation import Values
from lessonpress.measure.quantities import FloatArray, Quantities, Quantity
from lessonpress.measure.refusal import RefusedError
from lessonpress.measure.setting import At, Motion, Setting
from lessonpress.records.mark import Sighting

Pair = tuple[FloatArray, FloatArray]
AXES = (("x", "across"), ("y", "down"))
CLICK_U = 1.5 / 720  # of the picture's shorter side, each axis
LEAST_CLICK_U = 0.5  # px
MOST_SCATTER = 5.0  # of a click's error, between placings of one mark of the room


def usual_click_u(size: tuple[int, int]) -> float:
    """Standard uncertainty of one click in a picture of width × height px: px, each axis."""
    return max(LEAST_CLICK_U, CLICK_U * min(size))


@dataclass(frozen=True)
class _Placing:
    """One sighting and the names of its inputs; own: of this place, shared: the click it was carried from."""

    sighting: Sighting
    own: tuple[str, str]
    shared: tuple[str, str] | None
    shared_best: tuple[float, float] = (0.0, 0.0)


class Points:
    """The picture points of a clip, as offsets px right and px up of the centre of the reference picture:
    carried there by the camera's motion and cleared of the lens's distortion.
    """

    def __init__(self, setting: Setting, sightings: Iterable[Sighting], quantities: Quantities) -> None:
        self.setting = setting
        self.quantities = quantities
        self.motion = None if setting.camera.still else setting.motion
        stated = NO_BEND if setting.lens.straight else bend_of(setting.lens)
        self.bend_for: Callable[[Values], Bend] = lambda _: stated
        self.by_mark: dict[str, dict[int, Sighting]] = {}
        self.hand: dict[tuple[str, int], Sighting] = {}
        self._placings: dict[Sighting, _Placing] = {}
        for sighting in sightings:
            self._take(sighting)

    def _take(self, sighting: Sighting) -> None:
        frames = self.by_mark.setdefault(sighting.mark, {})
        if not sighting.tracked:
            self.hand[sighting.mark, sighting.frame] = sighting
        earlier = frames.get(sighting.frame)
        if earlier is None or (earlier.tracked and not sighting.tracked):
            frames[sighting.frame] = sighting

    def click_u(self, u: float | None) -> float:
        """Standard uncertainty of a hand-placed point, px for each axis."""
        return usual_click_u(self.setting.size) if u is None else max(LEAST_CLICK_U, u)

    def known(self, mark: str) -> bool:
        """Whether the mark was ever placed, or every member of the middle was."""
        return all(member in self.by_mark for member in self.members(mark))

    def members(self, mark: str) -> tuple[str, ...]:
        """The marks whose middle this name is; a mark is its own only member."""
        return tuple(self.setting.middles.get(mark, (mark,)))

    def sightings_of(self, at: At) -> list[Sighting]:
        """What places this mark at this frame: one sighting, or all placings of a mark of the room.

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

    def _placing(self, sighting: Sighting) -> _Placing:
        if sighting not in self._placings:
            self._placings[sighting] = self._made(sighting)
        return self._placings[sighting]

    def _made(self, sighting: Sighting) -> _Placing:
        if not sighting.tracked:
            return _Placing(sighting, self._click(sighting), None)
        where = f"{self.setting.clip}/track/{sighting.mark}/{sighting.frame}"
        own = [
            self.quantities.add(
                Quantity(
                    f"{where}/{axis}",
                    f"tracking of {sighting.mark}, frame {sighting.frame}, {words}",
                    getattr(sighting, axis),
                    sighting.u or 0.0,
                    "px",
                )
            )
            for axis, words in AXES
        ]
        first = self._origin(sighting)
        return _Placing(sighting, (own[0], own[1]), self._click(first), (first.x, first.y))

    def _origin(self, sighting: Sighting) -> Sighting:
        """The click a tracked place was carried from; one of default error where it is not told."""
        origin = sighting.frame if sighting.origin is None else sighting.origin
        named = self.hand.get((sighting.mark, origin))
        return named or Sighting(sighting.mark, -1 if sighting.origin is None else origin, 0.0, 0.0)

    def _click(self, sighting: Sighting) -> tuple[str, str]:
        where = f"{self.setting.clip}/click/{sighting.mark}/{sighting.frame}"
        u = self.click_u(sighting.u)
        frame = f"frame {sighting.frame}, " if sighting.frame >= 0 else ""
        names = [
            self.quantities.add(
                Quantity(
                    f"{where}/{axis}",
                    f"click on {sighting.mark}, {frame}{words}",
                    getattr(sighting, axis),
                    u,
                    "px",
                )
            )
            for axis, words in AXES
        ]
        return names[0], names[1]

    def frames_of(self, at: At) -> set[int]:
        """The frames whose pictures place this mark."""
        return {
            sighting.frame
            for member in self.members(at.mark)
            for sighting in self.sightings_of(At(member, at.frame))
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
            apart = max(math.dist(middle, place) for place in seen)
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
        return all(math.dist(_mean(seen), place) <= allowed for place in seen)

    def offset(self, at: At, values: Values) -> Pair:
        """Offset px right and up of the centre, in the reference picture, of one mark (not a middle)."""
        placings = [self._placing(sighting) for sighting in self.sightings_of(at)]
        pairs = [self._offset_of(placing, values) for placing in placings]
        if len(pairs) == 1:
            return pairs[0]
        return (
            np.asarray(sum(pair[0] for pair in pairs) / len(pairs)),
            np.asarray(sum(pair[1] for pair in pairs) / len(pairs)),
        )

    def _offset_of(self, placing: _Placing, values: Values) -> Pair:
        return undistorted(self.bend_for(values), *self._shown_of(placing, values))

    def shown_offset(self, at: At, values: Values) -> Pair:
        """Like `offset`, as the lens shows it: not cleared of its distortion."""
        placings = [self._placing(sighting) for sighting in self.sightings_of(at)]
        pairs = [self._shown_of(placing, values) for placing in placings]
        p, q = (np.asarray(sum(pair[axis] for pair in pairs) / len(pairs)) for axis in (0, 1))
        return p, q

    def _shown_of(self, placing: _Placing, values: Values) -> Pair:
        x, y = (values[name] for name in placing.own)
        if placing.shared is not None:
            x = x + values[placing.shared[0]] - placing.shared_best[0]
            y = y + values[placing.shared[1]] - placing.shared_best[1]
        if self.motion is None:
            return self._from_centre(x, y)
        x, y = carried(self.motion, x, y, placing.sighting.frame)
        slip = [values[name] for name in self._slips(placing.sighting.frame)]
        return self._from_centre(x + slip[0], y + slip[1])

    def _slips(self, frame: int) -> list[str]:
        """The inputs for how well a frame is laid on the reference frame, common to all its points."""
        assert self.motion is not None
        u = 0.0 if frame == self.motion.reference else float(self.motion.residual[frame])
        return [
            self.quantities.add(
                Quantity(
                    f"{self.setting.clip}/motion/{frame}/{axis}",
                    f"camera motion, frame {frame}, {words}",
                    0.0,
                    u,
                    "px",
                )
            )
            for axis, words in AXES
        ]

    def _from_centre(self, x: FloatArray, y: FloatArray) -> Pair:
        centre = self.setting.centre
        return x - centre[0], centre[1] - y

    def centred(self, x: FloatArray, y: FloatArray, values: Values) -> Pair:
        """A point of the reference picture as an undistorted offset px right and px up of the centre."""
        return undistorted(self.bend_for(values), *self._from_centre(x, y))

    def best(self, at: At) -> tuple[float, float]:
        """Where the mark (or middle) is in the picture of its frame, px, as placed."""
        points = [self._best_of(At(member, at.frame)) for member in self.members(at.mark)]
        return _mean(points)

    def _best_of(self, at: At) -> tuple[float, float]:
        sightings = self.sightings_of(at)
        return _mean([self.moved((s.x, s.y), s.frame, at.frame) for s in sightings])

    def moved(self, point: tuple[float, float], start: int, end: int) -> tuple[float, float]:
        """A point of the room seen at `start`, where it is at `end`; the same place for a still camera."""
        motion = self.motion
        if motion is None or start == end:
            return point
        there = motion.to_reference[start] @ np.array([*point, 1.0])
        back = np.linalg.solve(motion.to_reference[end], there)
        return float(back[0] / back[2]), float(back[1] / back[2])


def is_place(name: str) -> bool:
    """Whether an input is where a mark was placed or tracked."""
    return "/click/" in name or "/track/" in name


def _mean(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)


def carried(motion: Motion, x: FloatArray, y: FloatArray, frame: int) -> Pair:
    """Picture points of a frame in the reference picture: the frame's homography on (x, y, 1)."""
    h = motion.to_reference[frame]
    w = h[2, 0] * x + h[2, 1] * y + h[2, 2]
    return (h[0, 0] * x + h[0, 1] * y + h[0, 2]) / w, (h[1, 0] * x + h[1, 1] * y + h[1, 2]) / w
