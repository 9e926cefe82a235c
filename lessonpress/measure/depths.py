"""How far toward the camera each mark lies, as inputs: what is common to all frames, and each frame's own."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from lessonpress.measure.posture import (
    OTHER,
    STATED_STATURE_U,
    STATURE,
    STATURE_U,
    Posture,
    known,
    posture,
)
from lessonpress.measure.propagation import Values
from lessonpress.measure.quantities import FloatArray, Quantities, Quantity, limited
from lessonpress.measure.setting import Depth, Setting


class Depths:
    """The depths of a clip's marks. notes: what was assumed, by the name of the input that carries it."""

    def __init__(self, setting: Setting, quantities: Quantities, notes: dict[str, str]) -> None:
        self.setting = setting
        self.quantities = quantities
        self.notes = notes
        self.best_stature = STATURE if setting.stature is None else setting.stature
        u = STATURE_U if setting.stature is None else STATED_STATURE_U
        self.stature = quantities.add(
            Quantity(f"{setting.clip}/stature", "stature", self.best_stature, u, "m", lowest=0.5)
        )
        if setting.stature is None:
            notes[self.stature] = f"stature {STATURE} m, u {STATURE_U:.2f} m"

    def of(self, mark: str, frame: int, values: Values, span: tuple[int, int] | None = None) -> FloatArray:
        """Depth of a mark (not of the room, not a middle) at a frame, m, toward the camera.

        span: first and last frame of a motion; its own depth is then drawn at the ends and straight between.
        Independent depths from frame to frame would average away and promise too much.
        """
        stated = self.setting.depth.get(mark)
        if isinstance(stated, Depth):
            return values[self._stated(mark, None, stated)]
        between = self._between(mark, frame, stated, values) if stated else None
        return self._by_posture(mark, frame, values, span) if between is None else between

    def _stated(self, mark: str, frame: int | None, depth: Depth) -> str:
        where = "" if frame is None else f"/{frame}"
        words = f"depth of {mark}" + ("" if frame is None else f", frame {frame}")
        return self.quantities.add(
            limited(f"{self.setting.clip}/stated-depth/{mark}{where}", words, depth.toward, depth.within, "m")
        )

    def _between(
        self, mark: str, frame: int, stated: Mapping[int, Depth], values: Values
    ) -> FloatArray | None:
        """Straight in time between the instants the card names; None outside them."""
        frames = sorted(stated)
        if not frames[0] <= frame <= frames[-1]:
            return None
        after = next(named for named in frames if named >= frame)
        end = values[self._stated(mark, after, stated[after])]
        if after == frame:
            return end
        before = max(named for named in frames if named < frame)
        start = values[self._stated(mark, before, stated[before])]
        part = (self.time(frame) - self.time(before)) / (self.time(after) - self.time(before))
        return start + part * (end - start)

    def time(self, frame: int) -> float:
        """Seconds of a frame, or its number where the clip's times are not given."""
        times = self.setting.times
        return times[min(max(frame, 0), len(times) - 1)] if times else float(frame)

    def row(self, mark: str) -> Posture:
        """The posture table's row; from overhead there is none, and every depth is equally unknown."""
        if self.setting.view == "overhead":
            return OTHER["down-the-line"]
        return posture(mark, self.setting.view)

    def shared(self, mark: str) -> str:
        """The input for what a mark's depth has in common over all frames, an error about zero."""
        u = self.row(mark).shared * self.best_stature
        name = f"{self.setting.clip}/depth/{mark}"
        if not known(mark):
            self.notes[name] = f"no posture is known for {mark}"
        return self.quantities.add(Quantity(name, f"depth of {mark}, all frames", 0.0, u, "m"))

    def own(self, mark: str, frame: int) -> str:
        """The input for a mark's depth at one frame, an error about zero."""
        u = self.row(mark).per_frame * self.best_stature
        name = f"{self.setting.clip}/depth/{mark}/{frame}"
        return self.quantities.add(Quantity(name, f"depth of {mark}, frame {frame}", 0.0, u, "m"))

    def _by_posture(self, mark: str, frame: int, values: Values, span: tuple[int, int] | None) -> FloatArray:
        depth = self.row(mark).depth * values[self.stature] + values[self.shared(mark)]
        return np.asarray(depth + self._along(mark, frame, values, span))

    def _along(self, mark: str, frame: int, values: Values, span: tuple[int, int] | None) -> FloatArray:
        if span is None or span[0] == span[1]:
            return values[self.own(mark, frame)]
        part = (self.time(frame) - self.time(span[0])) / (self.time(span[1]) - self.time(span[0]))
        first, last = (values[self.own(mark, end)] for end in span)
        return first + part * (last - first)
