"""The camera's motion, read from the room, against the motion that was drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import cv2
import numpy as np
import pytest

from lessonpress.footage.camera.motion import CameraMotion, Unregistered, apply_matrix, camera_motion
from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_pictures
from tests.footage.drawn import Floats, H, Picture, W, developed, disc, surface, through

SPOTS = np.array([[0, 0], [W, 0], [0, H], [W, H], [W / 2, H / 2]], dtype=np.float64)
COUNT, REFERENCE = 40, 9


def swaying(frame: int) -> Floats:
    """A shift, a turn in the picture and a zoom."""
    turn, zoom = 0.03 * np.sin(frame / 15), 1 + 0.03 * np.sin(frame / 12)
    c, s = zoom * np.cos(turn), zoom * np.sin(turn)
    return np.array([[c, -s, 0.9 * frame], [s, c, 6 * np.sin(frame / 7)], [0, 0, 1]])


def turning(frame: int) -> Floats:
    """A camera of focal length 400 px that turns and nods about its own place: K R K⁻¹."""
    eye = np.array([[400, 0, W / 2], [0, 400, H / 2], [0, 0, 1.0]])
    turn, _ = cv2.Rodrigues(np.array([0.03 * np.sin(frame / 9), 0.004 * frame, 0.01 * np.sin(frame / 6)]))
    return np.asarray(eye @ turn @ np.linalg.inv(eye))


def subject(frame: int) -> tuple[float, float]:
    return W / 2 - 60 + 3 * frame, H / 2


MASKS = {
    frame: [(x + dx, y + dy) for dx in (-40, 40) for dy in (-40, 40)]
    for frame in (0, 20, COUNT - 1)
    for x, y in [subject(frame)]
}


def filmed(way: Callable[[int], Floats], noise: float = 2.0) -> Iterator[tuple[int, Picture]]:
    """A room seen by a moving camera, before it a patterned disc that goes its own way."""
    rng, room, pattern = np.random.default_rng(8), surface(4), surface(5)
    for frame in range(COUNT):
        yield frame, developed(disc(through(way(frame), room), subject(frame), 40, 0, pattern), noise, rng)


def errors(motion: CameraMotion, way: Callable[[int], Floats]) -> dict[int, Floats]:
    """px by which the picture's corners and middle are carried wrongly, by frame: (5, 2)."""
    found = {}
    for frame in range(COUNT):
        matrix = motion.to_reference(frame)
        assert not isinstance(matrix, Unregistered)
        truth = np.linalg.inv(way(REFERENCE)) @ way(frame)
        found[frame] = apply_matrix(matrix, SPOTS) - apply_matrix(truth, SPOTS)
    return found


@pytest.fixture(scope="module")
def swayed() -> CameraMotion:
    return camera_motion(filmed(swaying), REFERENCE, MASKS)


@pytest.fixture(scope="module")
def turned() -> CameraMotion:
    return camera_motion(filmed(turning), REFERENCE, MASKS)


def test_a_shift_turn_and_zoom_are_a_similarity_found_within_a_tenth_of_a_pixel(swayed: CameraMotion) -> None:
    assert swayed.model == "similarity"
    assert max(np.abs(error).max() for error in errors(swayed, swaying).values()) < 0.1


def test_a_camera_turned_about_its_place_is_a_homography_found_within_a_third_of_a_pixel(
    turned: CameraMotion,
) -> None:
    assert turned.model == "homography"
    assert max(np.abs(error).max() for error in errors(turned, turning).values()) < 0.33


@pytest.mark.parametrize("name", ["swayed", "turned"])
def test_the_error_claimed_is_the_error_made(name: str, request: pytest.FixtureRequest) -> None:
    """Errors at five places, in claimed standard uncertainties: rms near 1, neither brave nor timid."""
    motion: CameraMotion = request.getfixturevalue(name)
    way = swaying if name == "swayed" else turning
    ratios = []
    for frame, error in errors(motion, way).items():
        for spot, miss in zip(SPOTS, error, strict=True):
            claimed = motion.uncertainty(frame, (float(spot[0]), float(spot[1])))
            assert not isinstance(claimed, Unregistered)
            if frame != REFERENCE:
                ratios.append(miss / claimed)
    assert 0.4 < float(np.sqrt(np.mean(np.square(ratios)))) < 1.8


def test_errors_do_not_grow_along_the_clip(swayed: CameraMotion) -> None:
    found = errors(swayed, swaying)
    late = np.mean([np.abs(found[frame]).mean() for frame in range(30, COUNT)])
    assert late < 0.06


def test_between_two_frames_is_the_way_from_one_to_the_other(swayed: CameraMotion) -> None:
    matrix = swayed.between(5, 31)
    assert not isinstance(matrix, Unregistered)
    truth = np.linalg.inv(swaying(31)) @ swaying(5)
    assert np.abs(apply_matrix(matrix, SPOTS) - apply_matrix(truth, SPOTS)).max() < 0.15


def test_the_furthest_motion_is_given_in_px(swayed: CameraMotion) -> None:
    ways = [
        np.linalg.norm(
            apply_matrix(np.linalg.inv(swaying(REFERENCE)) @ swaying(frame), SPOTS) - SPOTS, axis=1
        ).max()
        for frame in range(COUNT)
    ]
    assert swayed.furthest == pytest.approx(max(ways), abs=0.2)


def test_the_room_is_followed_although_the_subject_fills_half_of_what_moves() -> None:
    """A camera that is still, and a masked subject that does not: nothing moves by more than 0.1 px."""
    motion = camera_motion(filmed(lambda _: np.eye(3)), REFERENCE, MASKS)
    assert motion.furthest < 0.1


def test_a_picture_that_shows_something_else_is_not_registered_and_says_why() -> None:
    stray = developed(surface(77)(*np.mgrid[0:H, 0:W][::-1] + 0.5), 2.0, np.random.default_rng(0))
    plain = np.full((H, W, 3), 90, dtype=np.uint8)
    pictures = dict(filmed(swaying)) | {20: plain, 21: stray}
    motion = camera_motion(sorted(pictures.items()), REFERENCE, MASKS)
    for frame in (20, 21):
        matrix = motion.to_reference(frame)
        assert isinstance(matrix, Unregistered)
        assert not matrix
        assert "room" in matrix.reason
        assert isinstance(motion.between(frame, 5), Unregistered)
    assert not isinstance(motion.to_reference(22), Unregistered)


def test_a_camera_that_leaves_the_reference_behind_is_followed_by_links() -> None:
    """By frame 59 nothing of the reference picture is left in view."""
    rng, room = np.random.default_rng(2), surface(6)
    way = {frame: np.array([[1, 0, 9.0 * frame], [0, 1, 0], [0, 0, 1]]) for frame in range(60)}
    pictures = ((frame, developed(through(matrix, room), 1.0, rng)) for frame, matrix in way.items())
    motion = camera_motion(pictures, 0, {})
    matrix = motion.to_reference(59)
    assert not isinstance(matrix, Unregistered)
    assert np.abs(apply_matrix(matrix, SPOTS) - apply_matrix(way[59], SPOTS)).max() < 1.0


def test_camera_motion_survives_being_written_as_json(swayed: CameraMotion) -> None:
    assert CameraMotion.from_json(swayed.to_json()) == swayed


def test_on_a_camera_clip_a_point_of_the_street_is_carried_to_where_it_is_seen(
    real_clips: dict[str, Path],
) -> None:
    """The parked cars and façades behind the fence, frames 137 to 186 of a street filmed by hand: a patch of
    the first picture, carried by the motion found, correlates with what is there in the last."""
    path = real_clips["bikes"]
    pictures = dict(take_pictures(path, read_index(path), range(137, 187)))
    motion = camera_motion(pictures.items(), 137, {})
    matrix = motion.to_reference(180)
    assert not isinstance(matrix, Unregistered)
    first, late = (cv2.cvtColor(pictures[frame], cv2.COLOR_RGB2GRAY) for frame in (137, 180))
    inverse = np.asarray(np.linalg.inv(matrix), dtype=np.float64)
    carried = apply_matrix(inverse, np.array([[40.0, 30.0], [600.0, 30.0], [320.0, 60.0]]))
    for (x, y), (u, v) in zip([(40, 30), (600, 30), (320, 60)], carried, strict=True):
        here = cv2.getRectSubPix(first, (31, 31), (x - 0.5, y - 0.5)).astype(float).ravel()
        there = cv2.getRectSubPix(late, (31, 31), (u - 0.5, v - 0.5)).astype(float).ravel()
        assert np.corrcoef(here, there)[0, 1] > 0.9
