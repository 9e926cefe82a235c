"""How far apart pictures are in steps of real time: what is expected of a club does not hang on their rate.

A step is the sixtieth of a second, in which all that has to do with time was chosen, or a picture where they
are farther apart.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

STEP = 1 / 60  # s


@dataclass(frozen=True)
class Clock:
    """steps: of each picture, by frame, since any moment. picture: steps from one picture to the next, 1 at
    the most.
    """

    steps: Mapping[int, float]
    picture: float

    @property
    def near(self) -> float:
        """Steps, within which pictures follow each other: those of one step."""
        return 1 + self.picture / 2

    def apart(self, one: int, other: int) -> float:
        """Steps between two pictures, whichever is the earlier."""
        return abs(self.steps[one] - self.steps[other])


def clock_of(frames: Sequence[int], seconds: Sequence[float]) -> Clock:
    """Of these pictures, ascending. seconds: the real time of each of the film's."""
    apart = [seconds[frame] for frame in frames]
    picture = float(np.median(np.diff(apart) / np.diff(frames)))
    step = max(STEP, picture)
    return Clock({frame: at / step for frame, at in zip(frames, apart, strict=True)}, picture / step)
