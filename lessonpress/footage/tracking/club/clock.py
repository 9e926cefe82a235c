"""How far apart pictures are in real time, in steps: what is expected of a club does not hang on their rate.

A step is the sixtieth of a second, in which all that has to do with time was chosen.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

A_SECOND = 60.0  # steps


@dataclass(frozen=True)
class Clock:
    """steps: of each picture, by frame, since any moment. picture: steps from one picture to the next."""

    steps: Mapping[int, float]
    picture: float

    @property
    def near(self) -> float:
        """Steps, within which pictures follow each other: those of one step, or neighbours."""
        return max(1.0, self.picture) + self.picture / 2

    def apart(self, one: int, other: int) -> float:
        """Steps between two pictures, whichever is the earlier."""
        return abs(self.steps[one] - self.steps[other])


def clock_of(frames: Sequence[int], seconds: Sequence[float]) -> Clock:
    """Of these pictures, ascending. seconds: the real time of each of the film's."""
    steps = {frame: A_SECOND * seconds[frame] for frame in frames}
    usual = np.median(np.diff(list(steps.values())) / np.diff(frames))
    return Clock(steps, float(usual))
