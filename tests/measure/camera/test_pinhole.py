"""The room's camera against OpenCV's, and the survey's solving against a camera that is known."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.measure.camera.pinhole import Attitude, Pose
from tests.measure.studio import TrueCamera

POINTS = [(-1.0, 0.8, 0.4), (0.3, -1.1, 0.0), (0.9, 0.2, -1.5), (0.0, 0.0, 0.2)]


def pose_of(camera: TrueCamera) -> Pose:
    one = np.ones(1)
    return Pose(
        Attitude(camera.roll * one, camera.pitch * one, camera.focal * one),
        camera.distance * one,
        camera.distance / camera.focal * one,
    )


@given(
    roll=st.floats(-0.3, 0.3),
    pitch=st.floats(-0.35, 0.35),
    focal=st.floats(800, 3000),
    distance=st.floats(2.5, 9),
)
def test_every_camera_places_what_opencv_projects(
    roll: float, pitch: float, focal: float, distance: float
) -> None:
    """Room points come back from cv2.projectPoints, whatever the roll, pitch, lens and distance.

    To 0.1 mm and 0.02 px: cv2.Rodrigues takes a turn below 1e-5 rad for none.
    """
    camera = TrueCamera(roll, pitch, focal, distance)
    pose = pose_of(camera)
    for (x, y, depth), (right, down) in zip(POINTS, camera.project(POINTS), strict=True):
        p, q = np.array([right - camera.size[0] / 2]), np.array([camera.size[1] / 2 - down])
        found = pose.placed(p, q, np.array([depth]))
        assert (found[0][0], found[1][0]) == pytest.approx((x, y), abs=1e-4)
        back = pose.seen(np.array([x]), np.array([y]), np.array([depth]))
        assert (back[0][0], back[1][0]) == pytest.approx((p[0], q[0]), abs=0.02)


def test_a_nearer_point_appears_farther_from_the_axis() -> None:
    """At depth d a point at X appears in the plane at X D/(D − d) (any text on projective geometry)."""
    pose = pose_of(TrueCamera(focal=1400, distance=4.0))
    p, _ = pose.seen(np.array([0.5]), np.array([0.0]), np.array([0.4]))
    assert p[0] / 1400 * 4.0 == pytest.approx(0.5 * 4.0 / 3.6)


def test_a_camera_turned_clockwise_turns_its_picture_the_other_way() -> None:
    """With 10° of roll a plumb line leans 10° to the left in the picture, and is levelled upright again."""
    camera = TrueCamera(roll=math.radians(10))
    foot, top = camera.project([(0, 0, 0), (0, 1, 0)])
    assert math.degrees(math.atan2(top[0] - foot[0], foot[1] - top[1])) == pytest.approx(-10)


def test_a_camera_that_looks_up_sees_things_lower() -> None:
    """Pitch is positive upward: what is level with the lens sinks below the picture's centre."""
    assert TrueCamera(pitch=math.radians(5)).project([(0, 0, 0)])[0][1] > 360
