"""A camera that was still is distinguished from a held one by the room in its pictures alone."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from lessonpress.footage.camera.motion import CameraMotion, Unregistered, camera_motion
from lessonpress.footage.camera.stillness import LEAST_SEEN, LIMIT, judged
from tests.footage.drawn import Floats, H, W
from tests.footage.test_motion import COUNT, MASKS, REFERENCE, filmed, swaying


def seen(way: Callable[[int], Floats], noise: float = 2.0) -> CameraMotion:
    return judged(camera_motion(filmed(way, noise), REFERENCE, MASKS))


def aside(px: float) -> Callable[[int], Floats]:
    """A room that slides by so many px in all."""
    return lambda frame: np.array([[1, 0, px * frame / (COUNT - 1)], [0, 1, 0], [0, 0, 1.0]])


@pytest.mark.parametrize("noise", [0.5, 2.0, 4.0])
def test_a_room_that_does_not_move_is_still_within_its_u(noise: float) -> None:
    found = seen(aside(0.0), noise)
    assert found.model == "still"
    for frame in range(COUNT):
        u = found.uncertainty(frame, (W / 2, H / 2))
        matrix = found.to_reference(frame)
        assert not isinstance(matrix, Unregistered) and not isinstance(u, Unregistered)
        assert np.array_equal(matrix, np.eye(3))
        assert u == 0.0 if frame == REFERENCE else 0.0 < u < 2 * LIMIT * min(W, H)


def test_a_way_below_the_limit_is_the_uncertainty_of_each_picture() -> None:
    """The true motion of every picture lies within twice its u."""
    way = 0.6 * LIMIT * min(W, H)
    found = seen(aside(way), 0.5)
    assert found.model == "still"
    for frame in range(COUNT):
        u = found.uncertainty(frame, (W / 2, H / 2))
        assert not isinstance(u, Unregistered)
        assert abs(way * (frame - REFERENCE) / (COUNT - 1)) <= 2 * u


def test_twice_the_limit_is_a_motion() -> None:
    assert seen(aside(2 * LIMIT * min(W, H) * COUNT / (COUNT - REFERENCE)), 0.5).model != "still"


def test_a_room_that_sways_is_a_motion() -> None:
    assert seen(swaying).model == "similarity"


def test_where_too_few_pictures_show_the_room_nothing_is_said() -> None:
    """A scene without corners in more than half of the pictures."""
    plain = np.full((H, W, 3), 120, np.uint8)
    last = int(LEAST_SEEN * COUNT) - 3
    pictures = [(frame, picture if frame < last else plain) for frame, picture in filmed(aside(0.0))]
    found = judged(camera_motion(pictures, REFERENCE, MASKS))
    assert found.model != "still"
    assert isinstance(found.to_reference(last), Unregistered)


def test_a_picture_without_the_room_stays_unregistered_in_a_clip_that_is_still() -> None:
    plain = np.full((H, W, 3), 120, np.uint8)
    pictures = [(frame, plain if frame == 20 else picture) for frame, picture in filmed(aside(0.0))]
    found = judged(camera_motion(pictures, REFERENCE, MASKS))
    assert found.model == "still"
    assert isinstance(found.to_reference(20), Unregistered)


def test_it_survives_being_written_as_json() -> None:
    found = seen(aside(0.0))
    assert CameraMotion.from_json(found.to_json()) == found
