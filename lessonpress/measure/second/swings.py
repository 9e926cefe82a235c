"""Other swings of the same golfer, filmed from the other side: depths in place of the posture table's.

Their mean is the best value for this golfer. It is widened by how much one swing differs from the next: by
common practice (`spread.py`), by how much heights differ, which both sides see, and by how much several other
swings differ among themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.numbers.units import open_length
from lessonpress.measure.second.agreement import derivatives
from lessonpress.measure.second.crossed import u_alone
from lessonpress.measure.second.like import LikeView
from lessonpress.measure.second.spread import BELIEVED, Difference, swing_u, wider
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Model, Values, first_order
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import Refusal


class Swings:
    """The depths of a clip's marks at its events, as other swings show them."""

    def __init__(self, one: Sight, others: Sequence[Sight]) -> None:
        self.one = one
        trial = [LikeView(one, other) for other in others]
        ready = [view for view in trial if view.unready is None]
        self.factor = wider(differences(ready), narrower=len(ready) > 1)
        first = others[0].setting.clip
        self.each = tuple(LikeView(one, other, self.factor, first) for other in others)
        # held against each other by what is believed of one golfer, and not by what is seen of these
        self._held = tuple(LikeView(one, other, BELIEVED, first) for other in others)
        self._u: dict[At, float] = {}
        self._better: dict[At, bool] = {}

    @cached_property
    def views(self) -> tuple[LikeView, ...]:
        """Those of use."""
        return tuple(view for view, held in zip(self.each, self._held, strict=True) if held.usable)

    @property
    def usable(self) -> bool:
        return bool(self.views)

    @property
    def clips(self) -> tuple[str, ...]:
        """The names of the clips that show depths."""
        return tuple(view.other.setting.clip for view in self.views)

    @property
    def refusals(self) -> Mapping[str, Refusal]:
        """By clip why it is of no use."""
        return {view.other.setting.clip: view.refused for view in self._held if view.refused is not None}

    @property
    def scaled(self) -> Quantity:
        return self.views[0].scaled

    def showing(self, at: At) -> list[LikeView]:
        """The views in which a mark is placed at the event of this frame."""
        return [view for view in self.views if view.pairing(at) is not None]

    def depth(self, at: At, values: Values) -> FloatArray:
        """Depth of a mark toward the camera, m: the mean of all other swings."""
        each = [view.depth(at, values) for view in self.showing(at)]
        return np.asarray(sum(each) / len(each))

    def knows_better(self, at: At) -> bool:
        """Whether other swings say more of this depth than the clip by itself does."""
        if at not in self._better:
            self._better[at] = bool(self.showing(at)) and self.u(at) < u_alone(self.one, at)
        return self._better[at]

    def known(self, mark: str) -> Mapping[int, Model]:
        """By frame the depths of a mark that are better known from other swings, as models."""
        frames = dict.fromkeys(frame for view in self.views for frame, _ in (view.events or {}).values())
        ats = [At(mark, frame) for frame in frames if frame in self.one.observations.by_mark.get(mark, {})]
        return {at.frame: self._model(at) for at in ats if self.knows_better(at)}

    def _model(self, at: At) -> Model:
        return lambda values: self.depth(at, values)

    def u(self, at: At) -> float:
        """Standard uncertainty of a depth from other swings, m."""
        if at not in self._u:
            self._u[at] = first_order(self._model(at), self.one.inputs).u
        return self._u[at]

    def words(self, at: At) -> str:
        """A depth as other swings show it, beside what the clip has by itself."""
        alone = float(self.one.depth_alone(at, self.one.best, self.one.pose)[0])
        return (
            f"depth of {at.mark}, frame {at.frame}: {open_length(float(self.depth(at, self.one.best)[0]))}, "
            f"u {open_length(self.u(at))}, as in {' and in '.join(self._worked(at))}; without it "
            f"{open_length(alone)}, u {open_length(u_alone(self.one, at))}"
        )

    def _worked(self, at: At) -> Iterator[str]:
        for view in self.showing(at):
            pairing = view.pairing(at)
            assert pairing is not None
            clip = view.other.setting.clip
            yield f"another swing, frame {pairing.before.frame} of {clip}, {view.worked(at, pairing)}"


def differences(views: Sequence[LikeView]) -> Iterator[Difference]:
    """How far heights differ between this swing and others, and depths among several others."""
    for view in views:
        yield from _of_heights(view)
    for at in dict.fromkeys(at for view in views for at in view.shared):
        seen = [view for view in views if view.pairing(at) is not None]
        if len(seen) > 1:
            yield _of_depths(at, seen)


def _of_heights(view: LikeView) -> Iterator[Difference]:
    """Of each mark at each event, less what all have in common, which is how the lenses stand."""
    best, inputs, half = derivatives(lambda values: view.heights(view.shared, values))
    own = np.array([one.about == "swing" for one in inputs], dtype=bool)
    left = best - best.mean()
    free = 1 - 1 / len(best)
    for row, off in zip(half, left, strict=True):
        yield Difference(float(off**2), float((row[~own] ** 2).sum()), float((row[own] ** 2).sum()), free)


def _of_depths(at: At, views: Sequence[LikeView]) -> Difference:
    depths = np.array([float(view.depth(at, view.one.best)[0]) for view in views])
    event = next(name for name, (mine, _) in (views[0].events or {}).items() if mine == at.frame)
    noise = [view.other.observations.body_click_u * float(view.other.pose.metres[0]) for view in views]
    free = len(views) - 1
    square = float(((depths - depths.mean()) ** 2).sum())
    return Difference(square, float(np.mean(np.square(noise))), swing_u(at.mark, event) ** 2, free)
