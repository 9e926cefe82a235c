"""Where two rays meet, beside OpenCV's `triangulatePoints` (documentation of its calib3d module).

Two level cameras at right angles see one point. OpenCV is given both projection matrices; the room's own
formula is given the level place of each ray in its subject plane.
"""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.measure.second.rays import Planes, apart, meeting

D, E = 4.3, 4.6  # m, the cameras' distances from the planes through the feet
K, L = 0.12, -0.07  # m: how far the axes pass beside the middle of the stance, down the line and face-on
places = st.floats(-0.9, 0.9)
turns = st.floats(-0.1, 0.1)


def projections(turn: float) -> tuple[np.ndarray, np.ndarray]:
    """Matrices (3, 4) of unit focal length. The room: x toward the target, y up, z toward the ball.

    The face-on camera is at (0, 0, D) and looks against z. The other is turned by `turn` from a right angle.
    """
    faced = np.array([[1.0, 0, 0, 0], [0, -1, 0, 0], [0, 0, -1, D]])
    cos, sin = np.cos(turn), np.sin(turn)
    along = np.array([[-sin, 0, cos, K], [0, -1, 0, 0], [cos, 0, sin, E - L]])
    return faced, along


@given(x=places, y=places, z=places, turn=turns)
def test_the_depths_are_those_of_triangulated_points(x: float, y: float, z: float, turn: float) -> None:
    """q is the triangulated z, and r is E less how far the point is before the other camera."""
    matrices = projections(turn)
    seen = [m @ np.array([x, y, z, 1.0]) for m in matrices]
    pictures = [(s[:2] / s[2]).reshape(2, 1) for s in seen]
    found = cv2.triangulatePoints(*matrices, *pictures)[:, 0]
    point = found[:3] / found[3]
    a, b = D * pictures[0][0, 0], E * pictures[1][0, 0]
    planes = Planes(*(np.array([one]) for one in (turn, K, L)))
    q, r = meeting(np.array([a]), np.array([b]), np.array([D]), np.array([E]), planes)
    assert q[0] == pytest.approx(point[2], abs=1e-9)
    assert r[0] == pytest.approx(E - (matrices[1] @ np.append(point, 1))[2], abs=1e-9)


@given(x=places, z=places, turn=turns)
def test_a_mark_of_known_depths_lays_the_planes(x: float, z: float, turn: float) -> None:
    g, r = z * np.cos(turn) - x * np.sin(turn) + K, L - x * np.cos(turn) - z * np.sin(turn)
    faced, along = (x / (1 - z / D), z), (g / (1 - r / E), r)
    one = [np.array([number]) for number in (*faced, *along, D, E, turn)]
    planes = apart((one[0], one[1]), (one[2], one[3]), *one[4:])
    assert (planes.across[0], planes.along[0]) == pytest.approx((K, L), abs=1e-12)
