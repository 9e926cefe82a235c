"""What a clip tells of its club, and where that is too little for its shaft to be looked for alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from lessonpress.records import Point, View

ALONG_THE_LINE = frozenset({"down-the-line", "from-target"})  # views in which a club points at the camera
FASTEST = 90  # pictures a second; sound there at 60, astray at 240, and not known between
TOO_FAST = (
    f"along the target line at more than {FASTEST} pictures a second shafts were led astray, so none is "
    "looked for where the clicks do not show how the clubhead looks"
)


@dataclass(frozen=True)
class Club:
    """grips: where it is held, by hand, px, by frame. seconds: the real time of each picture of the clip."""

    grips: Mapping[int, Point]
    view: View
    seconds: Sequence[float]

    @property
    def end_on(self) -> bool:
        """Whether the club points at the camera several times in a swing."""
        return self.view in ALONG_THE_LINE

    @property
    def too_fast(self) -> bool:
        """Whether too many pictures show it end on, one after another, to follow a shaft alone soundly."""
        return self.end_on and FASTEST * float(np.median(np.diff(self.seconds))) < 1
