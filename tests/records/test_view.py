"""Which way is positive, worked out from where the camera stands; the cross product is the whole source.

The golfer faces f, up is z. A right-handed golfer swings to his left, z × f. A camera that looks along d
shows d × z on the right of its picture.
"""

from __future__ import annotations

import numpy as np
import pytest

from lessonpress.records.view import FLIGHT, Hand, Side, View, level_goal

FACING, UP = np.array([0, 1, 0]), np.array([0, 0, 1])
WAYS: dict[int, tuple[Side, Side]] = {0: ("left", "right"), 1: ("out-of", "into")}


def looking(view: View, target: np.ndarray) -> np.ndarray:
    looks = {"face-on": -FACING, "from-behind": FACING, "down-the-line": target, "from-target": -target}
    return looks[view]


@pytest.mark.parametrize(("view", "hand"), FLIGHT)
def test_flight_and_level_axis_are_those_of_the_picture(view: View, hand: Hand) -> None:
    left = np.cross(UP, FACING)
    target = left if hand == "right" else -left
    d = looking(view, target)
    right = np.cross(d, UP)
    across, along = int(target @ right), int(target @ d)
    side = WAYS[0][across > 0] if across else WAYS[1][along > 0]
    goal = target if level_goal(view) == "target" else FACING  # the ball lies where the golfer faces
    assert FLIGHT[view, hand] == (side, int(goal @ right))


def test_every_view_from_the_ground_has_its_ways_for_both_hands() -> None:
    assert len(FLIGHT) == 8
