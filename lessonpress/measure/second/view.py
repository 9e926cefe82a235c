"""The other view of a swing filmed at once: where a mark lies toward the camera, seen across in the other."""

from __future__ import annotations

import numpy as np

from lessonpress.measure.body.depths import Span
from lessonpress.measure.formulas.arrays import FloatArray, Pair
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.numbers.units import open_length
from lessonpress.measure.second.crossed import Crossed, Events, u_alone
from lessonpress.measure.second.pairing import Pairing, paired
from lessonpress.measure.second.timing import Timing, timing
from lessonpress.measure.sight import Sight
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity


class SecondView(Crossed):
    """Depths of the marks of `one` as `other` shows them at the same instant of the same swing."""

    about = "with"
    contradiction = "they do not show one swing"
    remedy = "were both filmed at once? else check the events, the known lengths and that mark on both cards"

    def __init__(self, one: Sight, other: Sight) -> None:
        super().__init__(one, other)
        self.timing: Timing | None = timing(one.setting, other.setting)
        self._better: dict[tuple[At, Span | None], bool] = {}

    @property
    def clips(self) -> tuple[str, ...]:
        """The names of the clips that show depths."""
        return (self.other.setting.clip,)

    @property
    def events(self) -> Events | None:
        return None if self.timing is None else self.timing.events

    def _found(self, at: At) -> Pairing | None:
        return None if self.timing is None else paired(at, self.one, self.other, self.timing)

    def shown(self, at: At, pairing: Pairing, values: Values) -> Pair:
        x, y = self.other.in_plane(pairing.before, values)
        if pairing.seconds:
            assert self.timing is not None
            later = values[self.timing.later] - self.timing.later.value
            part = pairing.part + later / pairing.seconds
            x1, y1 = self.other.in_plane(pairing.after, values)
            x, y = x + part * (x1 - x), y + part * (y1 - y)
        return np.asarray(x), np.asarray(y)

    def off(self, at: At, pairing: Pairing, way: str, values: Values) -> FloatArray:
        return values[self.moved(at, pairing, way)]

    def moved(self, at: At, pairing: Pairing, way: str = "across") -> Quantity:
        words = f"way of {at.mark} between the two pictures, frame {at.frame}"
        return Quantity(f"{self.joint}/moved/{way}/{at.mark}/{at.frame}", words, 0.0, pairing.moved, "m")

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
        return self.pairing(at) is not None and self.u(at) < u_alone(self.one, at)

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
            f"{self.worked(at, pairing)}; without it "
            f"{open_length(alone)}, u {open_length(u_alone(self.one, at))}"
        )
