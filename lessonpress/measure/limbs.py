"""Depths by the lengths of a body's parts: one that is seen short points toward the camera or away from it.

The difference of the depths of its two ends is what the part's length says (`body/pointing.py`); their mean,
weighed by 1/u² of each, stays what postures say. Postures do not say how the errors of two marks go together.
An arm that is carried farther round than most takes elbow and wrist along, so the mean is taken to err as if
both ends erred alike, and the difference as if each erred by itself: both are the wider choice.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from lessonpress.measure.body.lengths import PART_OF, Part
from lessonpress.measure.body.pointing import Pointing
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.quantities import Draws, Quantity
from lessonpress.measure.uncertainty.refusal import RefusedError

Depth = Callable[[At, Values], FloatArray]
WORTH = 0.8  # of what the posture leaves of the difference: with more the length says too little
TOO_LONG = 3.0  # of the length's u: a part that is seen so much too long is misplaced or on another scale
BOTH_WAYS = 0.025  # of the density: a way that is no less likely is named


@dataclass(frozen=True)
class _Limb:
    """A part at a frame. first: the share of the difference that its first end takes.

    u: of the difference by itself, m; v: of the part's length, m. common: how much more the mean errs than
    the second end. way: the input for how far the part points toward the camera, a standard normal number.
    """

    part: Part
    first: float
    u: float
    v: float
    common: float
    way: Quantity


class Limbs:
    """The depths of a clip's marks that are ends of a part, frame by frame.

    alone: a depth without what lengths say, m; expected: its best value, which errors of it leave as it is.
    """

    def __init__(self, sight: Sight, alone: Depth, expected: Depth) -> None:
        self.sight = sight
        self._alone, self._expected = alone, expected
        self._limbs: dict[tuple[Part, int], _Limb | None] = {}
        self._last: dict[tuple[Part, int], tuple[Values, Pair]] = {}
        self._drawn: dict[tuple[Part, int, int, int], Pair] = {}

    def knows(self, at: At) -> bool:
        """Whether the length of a part says more of this depth than the posture does."""
        part = PART_OF.get(at.mark)
        return part is not None and self._limb(part, at.frame) is not None

    def depth(self, at: At, values: Values) -> FloatArray:
        """Depth of an end of a part toward the camera, m."""
        part = PART_OF[at.mark]
        limb = self._limb(part, at.frame)
        assert limb is not None
        return self._ends(limb, at.frame, values)[part.ends.index(at.mark)]

    def _limb(self, part: Part, frame: int) -> _Limb | None:
        if (part, frame) not in self._limbs:
            self._limbs[part, frame] = self._found(part, frame) if self._usable(part, frame) else None
        return self._limbs[part, frame]

    def _usable(self, part: Part, frame: int) -> bool:
        """Whether both ends are placed, and their depths are the posture's."""
        sight = self.sight
        if not sight.metric or sight.setting.view == "overhead":
            return False
        scaled = {mark for entry in sight.camera.solver.scales for mark in entry.marks}
        other = scaled | sight.setting.depth.keys() | sight.setting.room
        placed = sight.observations.by_mark
        return all(mark not in other and frame in placed.get(mark, {}) for mark in part.ends)

    def _found(self, part: Part, frame: int) -> _Limb | None:
        sight = self.sight
        first, second = (self._u(At(mark, frame)) for mark in part.ends)
        if not math.isfinite(first + second):
            return None
        stature = sight.depths.stature
        click = math.sqrt(2) * sight.observations.click_u(None) * float(sight.pose.metres[0])
        v = math.hypot(part.length_u(stature.value, stature.u), click)
        share, u = first**2 / (first**2 + second**2), math.hypot(first, second)
        common = ((1 - share) * first + share * second) / second
        limb = _Limb(part, share, u, v, common, self._way(part, frame))
        pointing = self._pointing(limb, frame, sight.best)
        if float(pointing.too_long()[0]) > TOO_LONG or float(pointing.spread()[0]) > WORTH * limb.u:
            return None
        toward = float(pointing.toward()[0])
        if min(toward, 1 - toward) < BOTH_WAYS:
            return limb
        return replace(limb, way=self._way(part, frame, both=True))

    def _u(self, at: At) -> float:
        """Standard uncertainty of a depth by itself, m; inf where it is not known at all."""
        try:
            return first_order(lambda values: self._alone(at, values), self.sight.inputs).u
        except RefusedError:
            return math.inf

    def _way(self, part: Part, frame: int, *, both: bool = False) -> Quantity:
        where = f"{part.words} may point toward the camera or away from it on frame {frame}"
        assumption = where if both else ""
        name = f"{self.sight.setting.clip}/limb/{'/'.join(part.ends)}/{frame}"
        words = f"way of {part.words} toward the camera by its length, frame {frame}"
        return Quantity(name, words, 0.0, 1.0, "", assumption=assumption)

    def _ends(self, limb: _Limb, frame: int, values: Values) -> Pair:
        """Depths of both ends; draws of one count and seed are the same for every number."""
        if isinstance(values, Draws):
            kind = limb.part, frame, values.count, values.seed
            if kind not in self._drawn:
                self._drawn[kind] = self._solved(limb, frame, values)
            return self._drawn[kind]
        made_of, last = self._last.get((limb.part, frame), (None, None))
        if made_of is values and last is not None:  # the other end asked just before
            return last
        ends = self._solved(limb, frame, values)
        self._last[limb.part, frame] = values, ends
        return ends

    def _solved(self, limb: _Limb, frame: int, values: Values) -> Pair:
        apart = self._pointing(limb, frame, values).at(values[limb.way])
        mean = self._mean(limb, frame, values)
        return np.asarray(mean - limb.first * apart), np.asarray(mean + (1 - limb.first) * apart)

    def _mean(self, limb: _Limb, frame: int, values: Values) -> FloatArray:
        """The weighed mean of both ends' depths, m: it errs as the second end does, and as widely as both."""
        second = limb.part.ends[1]
        best = [self._expected(At(mark, frame), values) for mark in limb.part.ends]
        error = self._alone(At(second, frame), values) - best[1]
        return np.asarray((1 - limb.first) * best[0] + limb.first * best[1] + limb.common * error)

    def _pointing(self, limb: _Limb, frame: int, values: Values) -> Pointing:
        first, second = (At(mark, frame) for mark in limb.part.ends)
        distance = self.sight.poses.of(values).distance
        mean, share = self._mean(limb, frame, values), limb.first
        near = 1 - mean / distance
        across, up = (
            (b * near - a * near, -(b * (1 - share) + a * share) / distance)
            for a, b in zip(*(self.sight.in_plane(at, values) for at in (first, second)), strict=True)
        )
        stature = values[self.sight.depths.stature]
        ends = [self._expected(At(mark, frame), values) for mark in limb.part.ends]
        return Pointing(
            across=across,
            up=up,
            known=ends[1] - ends[0] + 0 * near,  # as many rows as the camera has
            u=limb.u,
            length=limb.part.fraction * stature + 0 * near,
            v=limb.v,
        )
