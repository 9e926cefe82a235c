"""Blur: a mark that moves while a picture is exposed is a streak, and its place lies somewhere along it.

A place is seen at some moment of the exposure, which is unknown over its whole length: rectangular, so that u
is the streak's length over √12 (JCGM 100:2008, 4.3.7). Said as a time, v e s with s from −½ to ½ of the
exposure e, it lies along the motion by itself and grows and shrinks with the streak.

What is common and what is not. Who places a mark by hand chooses anew on every picture, so each such place
has an s of its own. Tracking carries the look of the mark from one place, so that all places carried from one
click sit at one part of their streaks: an s in common shifts all their times alike, and what is left of it in
a speed is the change of speed within the exposure. The scatter of tracking itself is in each place's own u.

A card that does not say the exposure leaves anything from nothing to a whole picture's time, longer than
which no camera can expose. That is wider than any stated one of up to half of it, so that saying it pays.
"""

from __future__ import annotations

import math

import numpy as np

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import Quantity, limited
from lessonpress.measure.uncertainty.refusal import RefusedError

SHUTTER_WITHIN = 0.05  # of a stated exposure
LONGEST = 0.25  # m: two and a half widths of a clubhead (0.1 m), by which it has faded into what is behind it
ENOUGH = 0.1  # m: a streak as short as the clubhead is wide, which the way out asks for


class Blur:
    """The blur of one clip's marks, as inputs. Wants the clip's times."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.stated = scene.setting.shutter
        self.exposure = self._exposure()

    def _exposure(self) -> Quantity:
        name, words = f"{self.scene.setting.clip}/exposure", "exposure of a picture"
        if self.stated is not None:
            within = SHUTTER_WITHIN * self.stated
            return limited(name, words, self.stated, within, "s")
        longest = self.scene.frame_time
        assumption = f"exposure from 0 to one picture's time, {1000 * longest:.1f} ms"
        return limited(name, words, longest / 2, longest / 2, "s", assumption)

    def check(self, mark: str, speed: float) -> None:
        """Refuses a mark that a stated exposure smears over more than `LONGEST`. speed: m/s."""
        if self.stated is None or speed * self.stated <= LONGEST:
            return
        raise RefusedError(
            f"blur: {mark} smears over {self.scene.length(speed * self.stated)} while a picture is exposed, "
            "so that it cannot be placed",
            f"film it with a shutter of 1/{_fastest(speed / ENOUGH)} s or shorter",
        )

    def late(self, at: At, values: Values) -> FloatArray:
        """By how long after the middle of the exposure a mark or middle is placed, s; below 0 before it."""
        parts = [values[self._part(member, at.frame)] for member in self.scene.observations.members(at.mark)]
        return np.asarray(values[self.exposure] * sum(parts) / len(parts))

    def _part(self, mark: str, frame: int) -> Quantity:
        """The input for where in its streak a mark was placed by hand, or the click it was carried from.

        Tracked places whose click is not known are taken for carried from one.
        """
        seen = self.scene.observations.by_mark[mark][frame]
        origin = seen.origin if seen.tracked else frame
        where = "as tracked" if origin is None else f"frame {origin}"
        name = f"{self.scene.setting.clip}/streak/{mark}/{origin}"
        words = f"place of {mark} in its streak, {where}"
        return limited(name, words, 0.0, 0.5, "exposures")


def _fastest(least: float) -> int:
    """The shutter speed, as cameras name them, that is at least so many to a second."""
    named = (60, 125, 250, 500, 1000, 2000, 4000)
    return next((one for one in named if one >= least), math.ceil(least / 1000) * 1000)
