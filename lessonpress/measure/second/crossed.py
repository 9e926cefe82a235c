"""Two clips that look at one golfer across each other: what goes across one picture is depth in the other.

What is shared by a second view of the same swing (`view.py`) and by one of another swing (`like.py`). They
differ in which places of the other clip show a mark, and in what lies between the two swings.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TypeVar

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At, Standing
from lessonpress.measure.numbers.units import open_length
from lessonpress.measure.second.agreement import Agreement, agreement
from lessonpress.measure.second.pairing import Pairing
from lessonpress.measure.second.planes import TURN_U, Anchor, laid, turned, weighed
from lessonpress.measure.second.rays import Planes, meeting
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import Refusal, RefusedError

T = TypeVar("T")
Events = Mapping[str, tuple[int, int]]  # frames of the instants that both cards name, the own clip's first
ACROSS_AND_ALONG = ("face-on", "down-the-line")
PAIR = "one is to be filmed face-on, the other down-the-line"
SQUARE_U = math.radians(TURN_U / math.sqrt(2))  # rad, of one of the two cameras
SAME_U = 0.02  # m, each way: how far the points differ that a person takes for one joint from two sides


class Crossed(ABC):
    """Depths of the marks of `one` as `other` shows them.

    One of the two looks across the target line, the other along it. Depths are seen where both clips have
    lengths, cameras that stood still, and an instant in common.
    """

    about = ""  # the second part of the names of what joins the two
    contradiction, remedy = "", ""  # what is said where the two do not fit

    def __init__(self, one: Sight, other: Sight) -> None:
        self.one, self.other = one, other
        self._paired: dict[At, Pairing | None] = {}
        self._planes: tuple[Values | None, Planes | None] = (None, None)
        self._u: dict[At, float] = {}

    @property
    @abstractmethod
    def events(self) -> Events | None:
        """The instants that both name; None where there is none, or a clip has no times."""

    @abstractmethod
    def _found(self, at: At) -> Pairing | None:
        """The places of the other clip that show a mark, which is none of the room."""

    @abstractmethod
    def shown(self, at: At, pairing: Pairing, values: Values) -> Pair:
        """Where the other view shows a mark in its subject plane, m: toward its goal, and up."""

    @abstractmethod
    def off(self, at: At, pairing: Pairing, way: str, values: Values) -> FloatArray:
        """How far a mark of `one` may lie from what the other shows of it, across or up, m."""

    # whether it is of use

    @property
    def usable(self) -> bool:
        return self.refused is None

    @cached_property
    def refused(self) -> Refusal | None:
        """Why the other clip shows no depths, or None. (A refusal is false: compare it with None.)"""
        return self._contradicted if self.unready is None else self.unready

    @cached_property
    def unready(self) -> Refusal | None:
        """Why the two cannot be held against each other at all, or None."""
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
        if self.events is None:
            return Refusal("the two cards name no instant in common", "name impact among the events of both")
        if not self.anchors:
            return Refusal(
                "no mark is placed at one instant in both", "place the same marks at an event that both name"
            )
        return None

    @cached_property
    def _contradicted(self) -> Refusal | None:
        """Both views see how high every mark is; where they do not agree, one of the cards is wrong."""
        ats, found = self.fit
        if found.holds:
            return None
        at, off = ats[found.worst], open_length(abs(found.off))
        way = "higher" if found.off > 0 else "lower"
        return Refusal(
            f"{self.contradiction}: {at.mark} on frame {at.frame} of {self.one.setting.clip} is {off} "
            f"{way} than {self.other.setting.clip} shows it, against ± {open_length(found.pm)}, and all "
            f"heights together do not fit",
            self.remedy,
        )

    @property
    def fit(self) -> tuple[Sequence[At], Agreement]:
        """The marks that both show at their events, and whether their heights agree."""
        ats = self.shared
        return ats, agreement(lambda values: self.heights(ats, values), np.ones(len(ats)))

    @cached_property
    def shared(self) -> list[At]:
        """The marks of `one` at events of both that the other clip shows, too."""
        frames = {frame for frame, _ in (self.events or {}).values()}
        placed = [
            At(mark, frame)
            for mark, shown in self.one.observations.by_mark.items()
            for frame in sorted(frames & shown.keys())
        ]
        return [at for at in placed if self.pairing(at) is not None]

    # places

    def pairing(self, at: At) -> Pairing | None:
        """The places of the other clip that show a mark at a frame of this one."""
        if at not in self._paired:
            room = self.one.setting.room | self.other.setting.room
            self._paired[at] = None if at.mark in room else self._found(at)
        return self._paired[at]

    def across(self, at: At, pairing: Pairing, values: Values) -> FloatArray:
        """Where the other view shows a mark in its subject plane, toward its goal, m."""
        return np.asarray(
            self.shown(at, pairing, values)[0]
            + self.off(at, pairing, "across", values)
            + values[self.same(at.mark)]
        )

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
        return Quantity(f"{setting.clip}/{self.about}/{self.other.setting.clip}/scale", words, 1.0, u, "")

    def same(self, mark: str, way: str = "across") -> Quantity:
        words = f"whether {mark} is one point in both views"
        return Quantity(f"{self.joint}/same/{way}/{mark}", words, 0.0, SAME_U, "m")

    @property
    def joint(self) -> str:
        """How the names of the inputs begin that join the two clips."""
        return f"{self.one.setting.clip}/{self.about}/{self.other.setting.clip}"

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
        return self._faced_first(*meeting(a, b, *self._distances(values), self.laid(values)))

    def u(self, at: At) -> float:
        """Standard uncertainty of a depth from two views, m."""
        if at not in self._u:
            self._u[at] = first_order(lambda values: self.depth(at, values), self.one.inputs).u
        return self._u[at]

    def worked(self, at: At, pairing: Pairing) -> str:
        """The equations of `rays.py` with numbers put in, at the best values, where the turn is nothing."""
        best = self.one.best
        distance = float(self.other.pose.distance[0])
        across = float(self.across(at, pairing, best)[0])
        across *= 1 - float(self.depths(at, best)[1][0]) / distance
        planes = self.laid(best)
        apart = float((planes.across if self._faced else planes.along)[0])
        if self._faced:
            return f"{open_length(across)} across less {open_length(apart)} from plane to plane"
        return f"{open_length(apart)} from plane to plane less {open_length(across)} across"

    # heights

    def heights(self, ats: Sequence[At], values: Values) -> list[FloatArray]:
        """How much higher each mark is seen in this clip than in the other, m, lens above lens."""
        mine, theirs = (sight.poses.of(values).distance for sight in (self.one, self.other))
        each = []
        for at in ats:
            pairing = self.pairing(at)
            assert pairing is not None
            q, r = self.depths(at, values)
            up, their_up = self.one.in_plane(at, values)[1], self.shown(at, pairing, values)[1]
            off = values[self.same(at.mark, "up")] + self.off(at, pairing, "up", values)
            each.append(np.asarray(up * (1 - q / mine) - their_up * (1 - r / theirs) + off))
        return each

    # how the planes lie

    @cached_property
    def anchors(self) -> tuple[Anchor, ...]:
        """The marks by which the planes are laid: those of the instant at which both tables know most."""
        if self.events is None:
            return ()
        known = [self._known_at(frame) for frame, _ in self.events.values()]
        return weighed(max(known, key=_weight, default={}))

    def _known_at(self, frame: int) -> Mapping[At, tuple[float, float]]:
        """The marks that both views show at a frame, with the u of their depths, face-on first."""
        known = {}
        for mark, frames in self.one.observations.by_mark.items():
            at = At(mark, frame)
            pairing = self.pairing(at) if frame in frames else None
            if pairing is not None:
                mine, theirs = u_alone(self.one, at), u_alone(self.other, pairing.before)
                known[at] = self._faced_first(mine, theirs)
        return {at: u for at, u in known.items() if 0 < max(u) < math.inf}

    def laid(self, values: Values) -> Planes:
        """How the planes lie, for the values last asked for once."""
        if self._planes[0] is not values or self._planes[1] is None:
            turn = values[turned(self.joint, self.one.setting.clip, self.other.setting.clip)]
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


def u_alone(sight: Sight, at: At) -> float:
    """Standard uncertainty of a depth as one clip has it by itself, m; inf where it has none."""
    try:
        return first_order(
            lambda values: sight.depth_alone(at, values, sight.poses.of(values)), sight.inputs
        ).u
    except RefusedError:
        return math.inf


def _weight(known: Mapping[At, tuple[float, float]]) -> float:
    return sum(u[0] ** -2 for u in known.values())
