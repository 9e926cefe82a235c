"""How far toward the camera each mark lies, as inputs: what is common to all frames, and each frame's own."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from lessonpress.measure.body.posture import (
    ALONG,
    OTHER,
    STATED_STATURE_U,
    STATURE,
    STATURE_U,
    Posture,
    bare,
    head_at_ball,
    known,
    loose_ball,
    posture,
)
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.observations import BALL
from lessonpress.measure.inputs.setting import Depth, Setting
from lessonpress.measure.uncertainty.propagation import Model, Values
from lessonpress.measure.uncertainty.quantities import Quantity, limited
from lessonpress.measure.uncertainty.refusal import RefusedError

HEAD = "implement-head"
# Between two known depths a third one may lie anywhere off the straight line, as far as the body can bring
# it in the time. Over a long gap a depth of per-frame u lies off the mean of two known ones by u √(1 + ½);
# where an end comes from the posture table, less by ½ u² each, which the end itself carries already. Over
# a short gap it goes with its square, as every way of bounded acceleration does: full from this many seconds
# on. From the drawn swingers' departures from the straight line, no published source.
BENDS_IN = {HEAD: 0.09}
BODY_BENDS_IN = 0.15  # hands and all others
# Hands of which no depth is stated go out on the way down, in every drawn swinger to the same side and by 1.4
# to 1.6 of what independent depths would: an error that all swings share. With twice the bend the ± of a hub
# from the top to impact holds as often as it says (tests/measure/test_hub.py).
HANDS, HANDS_BEND = ("wrist", "implement-grip"), 2.0
DOUBLE_BEND = 0.5  # of a bow: one way, then the other, in half the time each

Span = tuple[int, int]
NONE_SEEN: Mapping[int, Model] = MappingProxyType({})


class Depths:
    """The depths of a clip's marks. rests: whether a mark lies on a frame where it lay before impact."""

    def __init__(self, setting: Setting, rests: Callable[[str, int], bool]) -> None:
        self.setting = setting
        self.rests = rests
        self.stature = stature_of(setting)
        self.best_stature = self.stature.value

    def of(
        self,
        mark: str,
        frame: int,
        values: Values,
        span: Span | None = None,
        seen: Mapping[int, Model] = NONE_SEEN,
    ) -> FloatArray:
        """Depth of a mark (not of the room, not a middle) at a frame, m, toward the camera.

        span: first and last frame of a motion. Between two frames of known depth, which are those that the
        card names and the ends of the span, a depth runs straight in time but for a bend, which is one
        unknown for the whole gap: independent depths from frame to frame would average away and promise too
        much, and a straight line promises what no body does. seen: depths along a motion that other swings
        show, by frame. Refuses a ball in flight seen along its flight.
        """
        stated = self.setting.depth.get(mark)
        if isinstance(stated, Depth):
            return values[self._stated(mark, None, stated)]
        named = stated or {}
        seen = {} if named else seen
        ends = sorted({*named, *seen, *self._unnamed_ends(mark, named, span)})
        position = bisect_left(ends, frame)
        if frame in ends or position in (0, len(ends)):
            return self._at(mark, frame, named, values, seen)
        return self._between(mark, frame, (ends[position - 1], ends[position]), named, values, seen)

    def _unnamed_ends(self, mark: str, named: Mapping[int, Depth], span: Span | None) -> tuple[int, ...]:
        """The ends of a motion, and the instant when the club meets the ball, outside the named frames."""
        if span is None or span[0] == span[1]:
            return ()
        impact = self.setting.impact
        meets = impact is not None and span[0] < impact < span[1] and self._at_the_ball(mark, impact)
        known = (*span, impact) if meets and impact is not None else span
        return tuple(end for end in known if not named or not min(named) <= end <= max(named))

    def _at(
        self,
        mark: str,
        frame: int,
        named: Mapping[int, Depth],
        values: Values,
        seen: Mapping[int, Model] = NONE_SEEN,
    ) -> FloatArray:
        if frame in named:
            return values[self._stated(mark, frame, named[frame])]
        if frame in seen:
            return seen[frame](values)
        return self._by_posture(mark, frame, values)

    def _stated(self, mark: str, frame: int | None, depth: Depth) -> Quantity:
        where = "" if frame is None else f"/{frame}"
        words = f"depth of {mark}" + ("" if frame is None else f", frame {frame}")
        name = f"{self.setting.clip}/stated-depth/{mark}{where}"
        return limited(name, words, depth.toward, depth.within, "m")

    def _between(
        self,
        mark: str,
        frame: int,
        gap: Span,
        named: Mapping[int, Depth],
        values: Values,
        seen: Mapping[int, Model],
    ) -> FloatArray:
        start, end = (self._at(mark, edge, named, values, seen) for edge in gap)
        part = (self.time(frame) - self.time(gap[0])) / (self.time(gap[1]) - self.time(gap[0]))
        bow, double = (values[bend] for bend in self.bends(mark, gap, named, seen))
        bent = bow * math.sin(math.pi * part) + double * math.sin(2 * math.pi * part)
        return np.asarray(start + part * (end - start) + bent)

    def bends(
        self, mark: str, gap: Span, named: Mapping[int, Depth], seen: Mapping[int, Model] = NONE_SEEN
    ) -> tuple[Quantity, Quantity]:
        """The inputs for how a depth bends between two frames: a bow, and a bow one way and then the other.

        Errors about zero, each the largest departure from the straight line.
        """
        known = sum(frame in named or frame in seen or self._at_the_ball(mark, frame) for frame in gap)
        per_frame = max(self.swinging(mark, frame).per_frame for frame in gap)
        wider = HANDS_BEND if bare(mark) in HANDS and not any(frame in named for frame in gap) else 1.0
        u = wider * math.sqrt((1 + known) / 2) * per_frame * self.best_stature
        clip, (first, last) = self.setting.clip, gap
        where = f"{clip}/depth-bend/{mark}/{first}/{last}"
        words = f"depth of {mark}, frames {first} to {last}"
        bow = Quantity(where, f"bend in the {words}", 0.0, u * self._reach(mark, gap, 1), "m")
        double = Quantity(
            f"{where}/double",
            f"double bend in the {words}",
            0.0,
            DOUBLE_BEND * u * self._reach(mark, gap, 2),
            "m",
        )
        return bow, double

    def _reach(self, mark: str, gap: Span, bows: int) -> float:
        """How much of a full bend there is time for, 0 to 1; all of it where times are not known."""
        if not self.setting.times:
            return 1.0
        seconds = (self.time(gap[1]) - self.time(gap[0])) / bows
        return min(1.0, (seconds / BENDS_IN.get(mark, BODY_BENDS_IN)) ** 2)

    def time(self, frame: int) -> float:
        """Seconds of a frame, or its number where the clip's times are not given."""
        times = self.setting.times
        return times[min(max(frame, 0), len(times) - 1)] if times else float(frame)

    # what the posture says

    def row(self, mark: str, frame: int) -> Posture:
        """The posture table's row; from overhead there is none, and every depth is equally unknown.

        That of a ball holds where it lies; in a hand, falling or in flight it may be anywhere before a body.
        """
        view = self.setting.view
        if view == "overhead":
            return OTHER["down-the-line"]
        if mark == BALL:
            return posture(mark, view) if self.rests(mark, frame) else loose_ball(view)
        return head_at_ball(view) if self._at_the_ball(mark, frame) else self.swinging(mark, frame)

    def swinging(self, mark: str, frame: int) -> Posture:
        """The row of a mark that moves with the body."""
        impact, view = self.setting.impact, self.setting.view
        if view == "overhead":
            return OTHER["down-the-line"]
        return posture(mark, view, after=None if impact is None else frame > impact)

    def _at_the_ball(self, mark: str, frame: int) -> bool:
        """Whether the club meets the ball: seen from the side of the ball, its depth is then the ball's."""
        view = self.setting.view
        return mark == HEAD and frame == self.setting.impact and view not in ALONG and view != "overhead"

    def shared(self, mark: str, frame: int) -> Quantity:
        """The input for what a mark's depth has in common over all frames, an error about zero."""
        u = self.row(mark, frame).shared * self.best_stature
        name, assumption = f"{self.setting.clip}/depth/{mark}", ""
        if mark == BALL and not self.rests(mark, frame):
            name += "/loose"
            assumption = "no posture is known for a ball in flight or in a hand"
        elif not known(mark):
            assumption = f"no posture is known for {mark}"
        return Quantity(name, f"depth of {mark}, all frames", 0.0, u, "m", assumption=assumption)

    def own(self, mark: str, frame: int) -> Quantity:
        """The input for a mark's depth at one frame, an error about zero."""
        u = self.row(mark, frame).per_frame * self.best_stature
        name = f"{self.setting.clip}/depth/{mark}/{frame}"
        return Quantity(name, f"depth of {mark}, frame {frame}", 0.0, u, "m")

    def _by_posture(self, mark: str, frame: int, values: Values) -> FloatArray:
        self._refuse_flight(mark, frame)
        best = self.row(mark, frame).depth * values[self.stature]
        return np.asarray(best + values[self.shared(mark, frame)] + values[self.own(mark, frame)])

    def _refuse_flight(self, mark: str, frame: int) -> None:
        impact = self.setting.impact
        if mark == BALL and self.setting.view in ALONG and impact is not None and frame > impact:
            raise RefusedError(
                f"seen from {self.setting.view}, it is not known how far off a ball in flight is",
                f"state the depth of {mark} on the card, or use a clip filmed from face on",
            )


def stature_of(setting: Setting) -> Quantity:
    """The input for how tall the golfer is, as stated or assumed."""
    name, words = f"{setting.clip}/stature", "stature"
    if setting.stature is not None:
        return Quantity(name, words, setting.stature, STATED_STATURE_U, "m", lowest=0.5)
    assumption = f"stature {STATURE} m, u {STATURE_U:.2f} m"
    return Quantity(name, words, STATURE, STATURE_U, "m", lowest=0.5, assumption=assumption)
