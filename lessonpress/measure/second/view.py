"""The other view of a scene: where a mark lies toward the camera, seen across in the other clip."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TypeVar

import numpy as np

from lessonpress.measure.body.depths import Span
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At, Standing
from lessonpress.measure.numbers.units import open_length
from lessonpress.measure.second.agreement import agreement
from lessonpress.measure.second.pairing import Pairing, paired
from lessonpress.measure.second.planes import TURN_U, Anchor, laid, turned, weighed
from lessonpress.measure.second.rays import Planes, meeting
from lessonpress.measure.second.timing import Timing, timing
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import Refusal, RefusedError

T = TypeVar("T")
ACROSS_AND_ALONG = ("face-on", "down-the-line")
PAIR = "one is to be filmed face-on, the other down-the-line"
SQUARE_U = math.radians(TURN_U / math.sqrt(2))  # rad, of one of the two cameras
SAME_U = 0.02  # m, each way: how far the points differ that a person takes for one joint from two sides


class SecondView:
    """Depths of the marks of `one` as `other` shows them.

    One of the two looks across the target line, the other along it. Depths are seen where both clips have
    lengths, cameras that stood still, and an instant in common.
    """

    def __init__(self, one: Sight, other: Sight) -> None:
        self.one, self.other = one, other
        self.timing: Timing | None = timing(one.setting, other.setting)
        self._paired: dict[At, Pairing | None] = {}
        self._better: dict[tuple[At, Span | None], bool] = {}
        self._planes: tuple[Values | None, Planes | None] = (None, None)

    @property
    def usable(self) -> bool:
        return self.refused is None

    @cached_property
    def refused(self) -> Refusal | None:
        """Why the other clip gives no second view, or None. (A refusal is false: compare it with None.)"""
        return self._contradicted if self._unready is None else self._unready

    @cached_property
    def _unready(self) -> Refusal | None:
        for sight in (self.one, self.other):
            clip = sight.setting.clip
            if sight.setting.view not in ACROSS_AND_ALONG:
                return Refusal(f"{clip} is filmed {sight.setting.view}", PAIR)
            lengths = sight.lengths_refused
            if lengths is not None:
                return Refusal(f"{clip} gives no lengths: {lengths.reason}", lengths.way_out)
            if not sight.still:
                return Refusal(f"the camera of {clip} did not stand still", "film both from tripods")
        return self._unjoined

    @property
    def _unjoined(self) -> Refusal | None:
        one, other = self.one.setting, self.other.setting
        if one.view == other.view:
            return Refusal(f"both are filmed {one.view}", PAIR)
        if one.hand != other.hand:
            return Refusal("one golfer is right-handed, the other left-handed", "correct hand on a card")
        if self.timing is None:
            return Refusal("the two cards name no instant in common", "name impact among the events of both")
        if not self.anchors:
            return Refusal(
                "no mark is placed at one instant in both", "place the same marks at an event that both name"
            )
        return None

    @cached_property
    def _contradicted(self) -> Refusal | None:
        """Both views see how high every mark is; where they do not agree, they do not show one swing."""
        assert self.timing is not None
        frames = {frame for frame, _ in self.timing.events.values()}
        placed = [
            At(mark, frame)
            for mark, shown in self.one.observations.by_mark.items()
            for frame in sorted(frames & shown.keys())
        ]
        ats = [at for at in placed if self.pairing(at) is not None]
        found = agreement(lambda values: self.heights(ats, values), np.ones(len(ats)))
        if found.holds:
            return None
        at, off = ats[found.worst], open_length(abs(found.off))
        way = "higher" if found.off > 0 else "lower"
        return Refusal(
            f"they do not show one swing: {at.mark} on frame {at.frame} of {self.one.setting.clip} is {off} "
            f"{way} than {self.other.setting.clip} shows it, against ± {open_length(found.pm)}, and all "
            f"heights together do not fit",
            "were both filmed at once? else check the events, the known lengths and that mark on both cards",
        )

    def pairing(self, at: At) -> Pairing | None:
        """The places of the other clip that show a mark at a frame of this one."""
        if at not in self._paired:
            self._paired[at] = self._found(at)
        return self._paired[at]

    def _found(self, at: At) -> Pairing | None:
        room = self.one.setting.room | self.other.setting.room
        if self.timing is None or at.mark in room:
            return None
        return paired(at, self.one, self.other, self.timing)

    def across(self, at: At, pairing: Pairing, values: Values) -> FloatArray:
        """Where the other view shows a mark in its subject plane, toward its goal, m."""
        return self.shown(at, pairing, values)[0]

    def shown(self, at: At, pairing: Pairing, values: Values) -> tuple[FloatArray, FloatArray]:
        """Where the other view shows a mark in its subject plane, m: toward its goal, and up."""
        x, y = self.other.in_plane(pairing.before, values)
        if pairing.seconds:
            assert self.timing is not None
            later = values[self.timing.later] - self.timing.later.value
            part = pairing.part + later / pairing.seconds
            x1, y1 = self.other.in_plane(pairing.after, values)
            x, y = x + part * (x1 - x), y + part * (y1 - y)
        off = self.moved(at, pairing), self.same(at.mark)
        return np.asarray(x + sum(values[one] for one in off)), np.asarray(y)

    @cached_property
    def scaled(self) -> Quantity:
        """The input for by what factor lengths are off since the scale lies beside the subject plane.

        A stick in line with the feet, a yard aside, lies before or behind the plane that faces a
        camera which is a step off square. Beside depths from the posture table that is little.
        """
        pose, setting = self.one.pose, self.one.setting
        entries = [entry for entry in self.one.camera.solver.scales if not isinstance(entry.scale, Standing)]
        aside = [
            abs(float(pose.placed(*self.one.optics.offset(entry.at(mark), self.one.best), np.zeros(1))[0][0]))
            for entry in entries
            for mark in entry.marks
        ]
        u = max(aside, default=0.0) * SQUARE_U / float(pose.distance[0])
        words = "how far before or behind the plane the known length is"
        return Quantity(f"{setting.clip}/with/{self.other.setting.clip}/scale", words, 1.0, u, "")

    def moved(self, at: At, pairing: Pairing, way: str = "across") -> Quantity:
        words = f"way of {at.mark} between the two pictures, frame {at.frame}"
        return Quantity(f"{self._with}/moved/{way}/{at.mark}/{at.frame}", words, 0.0, pairing.moved, "m")

    def same(self, mark: str, way: str = "across") -> Quantity:
        words = f"whether {mark} is one point in both views"
        return Quantity(f"{self._with}/same/{way}/{mark}", words, 0.0, SAME_U, "m")

    @property
    def _with(self) -> str:
        return f"{self.one.setting.clip}/with/{self.other.setting.clip}"

    # depths

    def depth(self, at: At, values: Values) -> FloatArray:
        """Depth of a mark toward the camera of `one`, m."""
        return self.depths(at, values)[0]

    def depths(self, at: At, values: Values) -> tuple[FloatArray, FloatArray]:
        """Depths of a mark toward the camera of `one`, and toward that of `other`, m."""
        pairing = self.pairing(at)
        assert pairing is not None
        own = self.one.in_plane(at, values)[0]
        a, b = self._faced_first(own, self.across(at, pairing, values))
        return self._faced_first(*meeting(a, b, *self._distances(values), self._laid(values)))

    def knows_better(self, at: At, span: Span | None = None) -> bool:
        """Whether the other view gives this depth, and better than the clip by itself does.

        Along a motion it must do so on all of its frames, since a depth that changes its source jumps.
        """
        if span is not None and span[0] == span[1]:
            span = None
        asked = (at if span is None else At(at.mark, span[0]), span)
        if asked not in self._better:
            self._better[asked] = self.usable and self._knows(at, span)
        return self._better[asked]

    def _knows(self, at: At, span: Span | None) -> bool:
        if span is not None:
            frames = [f for f in self.one.observations.by_mark.get(at.mark, {}) if span[0] <= f <= span[1]]
            return all(self.knows_better(At(at.mark, frame)) for frame in frames)
        return self.pairing(at) is not None and self.u(at) < self.u_alone(self.one, at)

    def u(self, at: At) -> float:
        """Standard uncertainty of a depth from two views, m."""
        return first_order(lambda values: self.depth(at, values), self.one.inputs).u

    def words(self, at: At) -> str:
        """A depth as it is seen, beside what the clip has by itself."""
        pairing = self.pairing(at)
        assert pairing is not None
        frames = dict.fromkeys((pairing.before.frame, pairing.after.frame))
        shown = " and ".join(map(str, frames))
        alone = float(self.one.depth_alone(at, self.one.best, self.one.pose)[0])
        return (
            f"depth of {at.mark}, frame {at.frame}: {open_length(float(self.depth(at, self.one.best)[0]))}, "
            f"u {open_length(self.u(at))}, by frame {shown} of {self.other.setting.clip}, "
            f"{self._worked(at, pairing)}; without it "
            f"{open_length(alone)}, u {open_length(self.u_alone(self.one, at))}"
        )

    def _worked(self, at: At, pairing: Pairing) -> str:
        """The equations of `rays.py` with numbers put in, at the best values, where the turn is nothing."""
        best = self.one.best
        distance = float(self.other.pose.distance[0])
        across = float(self.across(at, pairing, best)[0])
        across *= 1 - float(self.depths(at, best)[1][0]) / distance
        planes = self._laid(best)
        apart = float((planes.across if self._faced else planes.along)[0])
        if self._faced:
            return f"{open_length(across)} across less {open_length(apart)} from plane to plane"
        return f"{open_length(apart)} from plane to plane less {open_length(across)} across"

    @staticmethod
    def u_alone(sight: Sight, at: At) -> float:
        """Standard uncertainty of a depth as one clip has it by itself, m; inf where it has none."""
        try:
            return first_order(
                lambda values: sight.depth_alone(at, values, sight.poses.of(values)), sight.inputs
            ).u
        except RefusedError:
            return math.inf

    # whether it is one swing

    def heights(self, ats: Sequence[At], values: Values) -> list[FloatArray]:
        """How much higher each mark is seen in this clip than in the other, m, lens above lens."""
        mine, theirs = (sight.poses.of(values).distance for sight in (self.one, self.other))
        each = []
        for at in ats:
            pairing = self.pairing(at)
            assert pairing is not None
            q, r = self.depths(at, values)
            up, their_up = self.one.in_plane(at, values)[1], self.shown(at, pairing, values)[1]
            off = values[self.same(at.mark, "up")] + values[self.moved(at, pairing, "up")]
            each.append(np.asarray(up * (1 - q / mine) - their_up * (1 - r / theirs) + off))
        return each

    @cached_property
    def anchors(self) -> tuple[Anchor, ...]:
        """The marks by which the planes are laid: those of the instant at which both tables know most."""
        if self.timing is None:
            return ()
        known = [self._known_at(frame) for frame, _ in self.timing.events.values()]
        return weighed(max(known, key=_weight, default={}))

    def _known_at(self, frame: int) -> Mapping[At, tuple[float, float]]:
        """The marks that both views show at a frame, with the u of their depths, face-on first."""
        known = {}
        for mark, frames in self.one.observations.by_mark.items():
            at = At(mark, frame)
            pairing = self.pairing(at) if frame in frames else None
            if pairing is not None:
                mine, theirs = self.u_alone(self.one, at), self.u_alone(self.other, pairing.before)
                known[at] = self._faced_first(mine, theirs)
        return {at: u for at, u in known.items() if 0 < max(u) < math.inf}

    def _laid(self, values: Values) -> Planes:
        """How the planes lie, for the values last asked for once."""
        if self._planes[0] is not values or self._planes[1] is None:
            turn = values[turned(self.one.setting.clip, self.other.setting.clip)]
            known = [self._known(anchor.at, values) for anchor in self.anchors]
            self._planes = values, laid(self.anchors, known, turn, *self._distances(values))
        planes = self._planes[1]
        assert planes is not None
        return planes

    def _known(self, at: At, values: Values) -> tuple[Pair, Pair]:
        pairing = self.pairing(at)
        assert pairing is not None
        mine = self.one.depth_alone(at, values, self.one.poses.of(values))
        theirs = self.other.depth_alone(pairing.before, values, self.other.poses.of(values))
        own = self.one.in_plane(at, values)[0], mine
        return self._faced_first(own, (self.across(at, pairing, values), theirs))

    def _distances(self, values: Values) -> tuple[FloatArray, FloatArray]:
        mine, theirs = (sight.poses.of(values).distance for sight in (self.one, self.other))
        return self._faced_first(mine, theirs)

    @property
    def _faced(self) -> bool:
        """Whether `one` is the view across the target line."""
        return self.one.setting.goal == "target"

    def _faced_first(self, mine: T, theirs: T) -> tuple[T, T]:
        return (mine, theirs) if self._faced else (theirs, mine)


def _weight(known: Mapping[At, tuple[float, float]]) -> float:
    return sum(u[0] ** -2 for u in known.values())
