"""Another swing of the same golfer from the other side: where marks were at the same event of that swing."""

from __future__ import annotations

import math

from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.second.crossed import Crossed, Events
from lessonpress.measure.second.pairing import Pairing, fastest_at
from lessonpress.measure.second.spread import swing_u
from lessonpress.measure.second.timing import half_a_picture
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity


class LikeView(Crossed):
    """Depths of the marks of `one` as they were in the swing that `other` shows, at events of both.

    factor: by what swings differ more than is assumed. first: the clip by whose name goes what several
    other swings have in common.
    """

    about = "like"
    contradiction = "they differ by more than two swings of one golfer do"
    remedy = (
        "is it the same golfer with the same club? else check the events, the known lengths and that mark"
    )

    def __init__(self, one: Sight, other: Sight, factor: float = 1.0, first: str = "") -> None:
        super().__init__(one, other)
        self.factor = factor
        self.first = first or other.setting.clip
        theirs = other.setting.events
        own = one.setting.events
        self._events = {name: (frame, theirs[name]) for name, frame in own.items() if name in theirs}

    @property
    def events(self) -> Events | None:
        return self._events or None

    def _found(self, at: At) -> Pairing | None:
        for mine, theirs in self._events.values():
            if mine == at.frame and theirs in self.other.observations.by_mark.get(at.mark, {}):
                place = At(at.mark, theirs)
                return Pairing(place, place, 0.0, 0.0, 0.0)
        return None

    def shown(self, at: At, pairing: Pairing, values: Values) -> Pair:
        return self.other.in_plane(pairing.before, values)

    def off(self, at: At, pairing: Pairing, way: str, values: Values) -> FloatArray:
        return (
            values[self.differs(at, way, self.one, at)]
            - values[self.differs(at, way, self.other, pairing.before)]
        )

    def differs(self, at: At, way: str, of: Sight, place: At) -> Quantity:
        """The input for how far a mark lies in one of the swings from where this golfer has it as a rule.

        at: the mark in `one`. place: the same in the swing that is asked for.
        """
        event = next(name for name, (mine, _) in self._events.items() if mine == at.frame)
        moved = fastest_at(at.mark, event) * half_a_picture(of.setting, place.frame) / math.sqrt(3)
        u = math.hypot(self.factor * swing_u(at.mark, event, way), moved)
        clip = of.setting.clip
        words = f"{at.mark} in the swing of {clip} against the usual one, frame {place.frame}"
        name = f"{self.one.setting.clip}/swing/{clip}/{way}/{at.mark}/{at.frame}"
        assumption = self._rule if of is self.one else f"depths as in another swing, {clip}"
        return Quantity(name, words, 0.0, u, "m", assumption=assumption)

    @property
    def _rule(self) -> str:
        times = "" if abs(self.factor - 1) < 0.05 else f", times {self.factor:.1f} by what is seen of them"
        return f"swings of one golfer differ as they do as a rule{times}"

    def same(self, mark: str, way: str = "across") -> Quantity:
        """All other swings are filmed from one side, where one person takes one point for the joint."""
        own = super().same(mark, way)
        name = f"{self.one.setting.clip}/{self.about}/{self.first}/same/{way}/{mark}"
        return Quantity(name, own.words, own.value, own.u, own.unit)
