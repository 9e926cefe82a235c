"""Which marks of a frame are linked by known lengths, and in which order their depths are found."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lessonpress.measure.body.lengths import FOREARMS, GRIP, HANDS, Part, club
from lessonpress.measure.body.linked import Link, Linked, Place
from lessonpress.measure.body.pointing import Pointing, pointing
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Values, first_order
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import RefusedError

Depth = Callable[[At, Values], FloatArray]
Tabled = Callable[[At], bool]
WORTH = 0.8  # of what the posture leaves of the difference: with more the length says too little
TOO_LONG = 3.0  # of the length's u: a part that is seen so much too long is misplaced or on another scale
BOTH_WAYS = 0.025  # of the density: a way that is no less likely is named


@dataclass(frozen=True)
class Group:
    """Marks linked at a frame. ways: the input of each for how deep it lies, a standard normal number.

    own: the u of those whose own depth counts where all of them are, m; for the others that of the root does.
    """

    linked: Linked
    ways: Mapping[str, Quantity]
    own: Mapping[str, float]

    def weights(self, marks: Iterable[str]) -> Mapping[str, float]:
        """1/u² of the depths that these marks have by themselves, summing to 1."""
        counted = dict.fromkeys(mark if mark in self.own else self.linked.root for mark in marks)
        each = {mark: self.own[mark] ** -2 for mark in counted}
        return {mark: weight / sum(each.values()) for mark, weight in each.items()}

    def common(self, weights: Mapping[str, float]) -> float:
        """How much more such a mean errs than the root by itself, where all err alike."""
        return sum(weight * self.own[mark] for mark, weight in weights.items()) / self.own[self.linked.root]


class Links:
    """The groups of a clip's linked marks, frame by frame; the arguments are those of `Limbs`."""

    def __init__(self, sight: Sight, alone: Depth, tabled: Tabled) -> None:
        self.sight = sight
        self._alone, self._tabled = alone, tabled
        entries = sight.camera.solver.scales
        self._of_room = {mark for entry in entries for mark in entry.marks} | sight.setting.room
        self._places: dict[At, Place | None] = {}

    def groups(self, frame: int) -> Iterator[Group]:
        """What the club links, where its length is known and says something; other forearms one by one."""
        if not self.sight.metric or self.sight.setting.view == "overhead":
            return
        arms = [arm for arm in FOREARMS if self._free(arm.ends, frame) and self._worth(arm, frame)]
        held = self._held(frame)
        if held:
            wrists = {mark for part in held for mark in part.ends}
            linked = [arm for arm in arms if arm.ends[0] in wrists]
            arms = [arm for arm in arms if arm not in linked]
            yield self._group([*held, *linked], frame)
        for arm in arms:
            yield self._group([arm], frame)

    def club_too_long(self) -> Iterator[int]:
        """Of the frames on which both its ends are placed by hand, and no card says how deep they are."""
        shaft = self._club
        if shaft is None or not self.sight.metric:
            return
        grip, head = ({f for mark, f in self.sight.observations.hand if mark == end} for end in shaft.ends)
        for frame in sorted(grip & head):
            if self._free(shaft.ends, frame) and not self._fits(shaft, frame):
                yield frame

    @property
    def _club(self) -> Part | None:
        length = self.sight.setting.implement_length
        return None if length is None else club(length)

    def _held(self, frame: int) -> list[Part]:
        """The club and the hands that hold it, from the wrist of the better known depth outward.

        Postures know one depth of both hands and the grip and not three, so the others have none by
        themselves. Where another swing shows them each has its own, and no hand links them.
        """
        shaft = self._club
        if shaft is None or not self._free(shaft.ends, frame) or not self._worth(shaft, frame):
            return []
        if not self._tabled(At(GRIP, frame)):
            return [shaft]
        hands = [hand for hand in HANDS if self._fits(hand, frame)]
        hands.sort(key=lambda hand: self._u(hand.ends[0], frame))
        others = [
            replace(hand, ends=(GRIP, hand.ends[0]))
            for hand in hands[1:]
            if self._tabled(At(hand.ends[0], frame))
        ]
        return [*hands[:1], shaft, *others]

    # which may be linked

    def _free(self, marks: Sequence[str], frame: int) -> bool:
        """Whether all are placed, and no card says how deep they are."""
        stated = self.sight.setting.depth.keys()
        return all(mark not in stated and self._place(mark, frame) for mark in marks)

    def _worth(self, part: Part, frame: int) -> bool:
        first, second = (self._known(mark, frame) for mark in part.ends)
        seen = self._pointing(part, first, second)
        return self._fits(part, frame) and seen.spread <= WORTH * seen.u

    def _fits(self, part: Part, frame: int) -> bool:
        """Whether both ends are placed, and no farther from each other than they can be."""
        if not all(self._place(mark, frame) for mark in part.ends):
            return False
        first, second = (self._known(mark, frame) for mark in part.ends)
        too_long = self._pointing(part, first, second).too_long(self._length(part))
        return too_long <= TOO_LONG * self._length_u(part)

    def _pointing(self, part: Part, first: Place, second: Place) -> Pointing:
        return pointing(first, second, self._length(part), self._length_u(part), self._camera)

    def _length(self, part: Part) -> float:
        return part.length(self.sight.depths.stature.value)

    def _length_u(self, part: Part) -> float:
        """Of the length between the two marks as clicked, m."""
        stature = self.sight.depths.stature
        click = math.sqrt(2) * self.sight.observations.body_click_u * float(self.sight.pose.metres[0])
        return math.hypot(part.length_u(stature.value, stature.u), click)

    @property
    def _camera(self) -> float:
        return float(self.sight.pose.distance[0])

    # places

    def _place(self, mark: str, frame: int) -> Place | None:
        """None where it is not placed, belongs to the room, or has no depth by itself."""
        at = At(mark, frame)
        if at not in self._places:
            self._places[at] = self._found(at)
        return self._places[at]

    def _found(self, at: At) -> Place | None:
        sight = self.sight
        if at.mark in self._of_room or at.frame not in sight.observations.by_mark.get(at.mark, {}):
            return None
        try:
            alone = first_order(lambda values: self._alone(at, values), sight.inputs)
        except RefusedError:
            return None
        across, up = sight.in_plane(at, sight.best)
        return Place(float(across[0]), float(up[0]), alone.value, alone.u) if alone.u > 0 else None

    def _known(self, mark: str, frame: int) -> Place:
        place = self._place(mark, frame)
        assert place is not None
        return place

    def _u(self, mark: str, frame: int) -> float:
        return self._known(mark, frame).u

    # groups

    def _group(self, parts: Sequence[Part], frame: int) -> Group:
        root = parts[0].ends[0]
        places = {mark: self._known(mark, frame) for part in parts for mark in part.ends}
        for part in parts:
            if self._is_of_hands(part):
                places[part.ends[1]] = replace(places[part.ends[1]], u=math.inf)
        links = [Link(*part.ends, self._length(part), self._length_u(part)) for part in parts]
        ways = {root: self._way_of_root(root, frame)}
        ways |= {part.ends[1]: self._way(part, frame) for part in parts}
        stated = root in self.sight.setting.depth  # then all are counted from it, and it keeps its depth
        own = {mark: place.u for mark, place in places.items() if math.isfinite(place.u)}
        own = {root: own[root]} if stated else own
        return Group(Linked(places, root, links, self._camera), ways, own)

    def _is_of_hands(self, part: Part) -> bool:
        return any(set(part.ends) == set(hand.ends) for hand in HANDS)

    def _way_of_root(self, root: str, frame: int) -> Quantity:
        name = f"{self.sight.setting.clip}/limb/{root}/{frame}"
        return Quantity(name, f"depth of {root} among all that lengths link, frame {frame}", 0.0, 1.0, "")

    def _way(self, part: Part, frame: int) -> Quantity:
        name = f"{self.sight.setting.clip}/limb/{'/'.join(part.ends)}/{frame}"
        words = f"way of {part.words} toward the camera by its length, frame {frame}"
        where = f"{part.words} may point toward the camera or away from it on frame {frame}"
        return Quantity(name, words, 0.0, 1.0, "", assumption=where if self._both_ways(part, frame) else "")

    def _both_ways(self, part: Part, frame: int) -> bool:
        """Whether to say so; of hands, which are short, it is not worth a word."""
        if self._is_of_hands(part):
            return False
        first, second = (self._known(mark, frame) for mark in part.ends)
        toward = self._pointing(part, first, second).toward
        return min(toward, 1 - toward) >= BOTH_WAYS
