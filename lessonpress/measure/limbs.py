"""Depths by lengths: a part that is seen short points toward the camera or away from it.

Linked are wrist and elbow by the forearm, and where the card says how long the club is, both wrists by the
hands to the grip and the grip by the club to its head: what one of them says of depth the others share
(`links.py`). What lengths say is how far the depths of linked marks are apart, and nothing of one mark by
itself. Where all of them together are stays what postures say, which do not say how the errors of two marks
go together: an arm that is carried farther round than most takes elbow and wrist along. So the linked marks
of a number err together as one of them does by itself, and the depths between them as if each erred by
itself: both are the wider choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.links import Depth, Group, Links, Tabled
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Draws

Together = tuple[str, ...]  # marks of one frame, linked, whose mean depth is left where it is


class Limbs:
    """The depths of a clip's marks that are linked by known lengths, frame by frame.

    alone: a depth without what lengths say, m; expected: its best value, which errors of it leave as it is.
    tabled: whether that depth is the posture table's.
    """

    def __init__(self, sight: Sight, alone: Depth, expected: Depth, tabled: Tabled) -> None:
        self._alone, self._expected = alone, expected
        self._links = Links(sight, alone, tabled)
        self._frames: dict[int, Mapping[str, Group]] = {}
        self._last: tuple[Values | None, _Kept] = (None, {})
        self._drawn: dict[tuple[int, int], _Kept] = {}

    @property
    def club_too_long(self) -> list[int]:
        """The frames on which the club is seen longer than the card lets it be."""
        return list(self._links.club_too_long())

    def linked_to(self, at: At) -> Together | None:
        """All that lengths link a mark to, itself included; None where they say nothing of it."""
        group = self._groups(at.frame).get(at.mark)
        return None if group is None else tuple(group.ways)

    def linked(self, ats: Iterable[At]) -> dict[At, Together]:
        """By mark those of these marks that it is linked to; marks that are linked to none are left out."""
        groups: dict[int, list[At]] = {}
        for at in dict.fromkeys(ats):
            group = self._groups(at.frame).get(at.mark)
            if group is not None:
                groups.setdefault(id(group), []).append(at)
        several = [marks for marks in groups.values() if len(marks) > 1]
        return {at: tuple(one.mark for one in marks) for marks in several for at in marks}

    def depth(self, at: At, values: Values, together: Together) -> FloatArray:
        """Depth of a linked mark toward the camera, m; for one set of values worked out once."""
        kept = self._kept(values)
        if (at, together) not in kept:
            kept[at, together] = self._solved(at, values, together)
        return kept[at, together]

    def _groups(self, frame: int) -> Mapping[str, Group]:
        if frame not in self._frames:
            self._frames[frame] = {mark: one for one in self._links.groups(frame) for mark in one.ways}
        return self._frames[frame]

    def _kept(self, values: Values) -> _Kept:
        """Draws of one count and seed are the same for every number."""
        if isinstance(values, Draws):
            return self._drawn.setdefault((values.count, values.seed), {})
        if self._last[0] is not values:
            self._last = values, {}
        return self._last[1]

    def _solved(self, at: At, values: Values, together: Together) -> FloatArray:
        """The weighed mean of all depths is what it is by itself, and errs as the root does by itself."""
        group, frame = self._groups(at.frame)[at.mark], at.frame
        root, weights = At(group.linked.root, frame), group.weights(together)
        drawn = group.linked.drawn((at.mark, *weights), lambda mark: values[group.ways[mark]])
        error = self._alone(root, values) - self._expected(root, values)
        best = sum(weight * self._expected(At(mark, frame), values) for mark, weight in weights.items())
        mean = sum(weight * drawn[mark] for mark, weight in weights.items())
        return np.asarray(best + group.common(weights) * error + drawn[at.mark] - mean)


_Kept = dict[tuple[At, Together], FloatArray]
