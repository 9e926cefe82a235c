"""The studio's camera agrees with a reference library and with the program's table of views."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from lessonpress.records.view import FLIGHT, View
from tests.studio.camera import Camera, Sway, looking_at, to_view


def test_a_projection_equals_the_reference_librarys() -> None:
    """OpenCV's projectPoints (pinhole with k1, k2), its rows turned to our axes."""
    camera = Camera((0.3, 1.2, 4.0), yaw=5, pitch=4, roll=3, focal=1234, size=(1281, 719), k1=-0.1, k2=0.02)
    points = np.array([[0, 0, 0], [0.5, 1.6, 0.3], [-1, 0.2, -1.0]])
    turn = camera.axes * np.array([[1], [-1], [1]])
    rotation, _ = cv2.Rodrigues(turn)
    matrix = np.array([[1234, 0, 640.5], [0, 1234, 359.5], [0, 0, 1]])
    moved = -turn @ np.array(camera.position)
    expected, _ = cv2.projectPoints(points, rotation, moved, matrix, np.array([-0.1, 0.02, 0, 0]))
    assert np.abs(camera.project(points) - expected[:, 0]).max() < 1e-9


@pytest.mark.parametrize(("view", "hand"), list(FLIGHT))
def test_the_goal_lies_where_the_table_of_views_says(view: View, hand: str) -> None:
    goal = (1.0, 0.0, 0.0) if view in ("face-on", "from-behind") else (0.0, 0.0, 1.0)
    assert np.sign(to_view(np.array(goal), view, hand)[0]) == FLIGHT[(view, hand)][1]  # type: ignore[index]


def test_a_point_before_the_plane_appears_farther_from_the_axis() -> None:
    """x D/(D − d), any text on projective geometry."""
    camera = Camera((0, 0, 4.0), focal=1000, size=(800, 640))
    seen = camera.project(np.array([0.5, 0, 0.4]))[0] - 400
    assert seen == pytest.approx(1000 / 4.0 * 0.5 * 4.0 / (4.0 - 0.4))


def test_a_camera_can_be_turned_to_look_at_a_point() -> None:
    camera = looking_at((0.2, 0.9, 0.1), (1.0, 1.6, 5.0), Camera())
    assert camera.project(np.array([0.2, 0.9, 0.1])) == pytest.approx(camera.middle)


def test_a_camera_that_looks_down_sees_the_room_higher_in_the_picture() -> None:
    level, down = Camera((0, 1, 4.0)), Camera((0, 1, 4.0), pitch=5)
    assert down.project(np.array([0, 1, 0.0]))[1] < level.project(np.array([0, 1, 0.0]))[1]


def test_a_hand_moves_the_camera_from_its_own_place() -> None:
    camera = Camera(sway=Sway(0.02, 0.4, seed=5))
    assert camera.at(0.0).position == pytest.approx(camera.position)
    assert camera.at(0.8).position != pytest.approx(camera.position, abs=1e-3)
    assert camera.at(0.8) == camera.at(0.8)
