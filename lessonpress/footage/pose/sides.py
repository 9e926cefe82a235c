"""Which of the two is the lead side.

The network says left and right of the body, and where a cap hides the face it takes the golfer for one seen
from behind. Across the target line the feet tell: they stay where they are, the lead foot toward the target.
Along it nothing in the picture does: all looks can agree and be wrong, as on a drawn left-handed golfer.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.looks import MIRROR
from lessonpress.records import Hand, View, positive_right

Floats = NDArray[np.float64]

ACROSS: tuple[View, ...] = ("face-on", "from-behind")
FEET = ((25, 26), (27, 28), (29, 30))  # knees, ankles, heels
APART = 0.04  # of the square's side, on the mean: closer feet do not say which is which


@dataclass(frozen=True)
class Sided:
    """points: (looks, 33, 3), with the lead side where the network has the left one. clear: whether it is."""

    points: Floats
    clear: bool


def sided(points: Floats, side: float, view: View, hand: Hand) -> Sided:
    """The points of several looks, (looks, 33, 3), with lead and trail told apart. side: of their square,
    px.
    """
    points = points[:, MIRROR] if hand == "left" else points
    if view not in ACROSS:
        return Sided(points, False)
    lead, trail = (points[:, [pair[which] for pair in FEET], 0] for which in (0, 1))
    apart = positive_right(view, hand) * (lead - trail).mean(axis=1)
    right = np.where((apart < 0)[:, None, None], points[:, MIRROR], points)
    return Sided(right, bool(np.median(np.abs(apart)) > APART * side))
