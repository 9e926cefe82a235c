"""The desk shows the exact pictures that the press takes."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from PIL import Image
from starlette.testclient import TestClient

from lessonpress.desk.http.context import Desk
from lessonpress.desk.views.clipview import roll_of
from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_pictures

CLIP = "/api/clips/dune-face-on"


def _pixels(content: bytes) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    return np.asarray(Image.open(io.BytesIO(content)).convert("RGB"))


def test_a_picture_is_the_presss_to_the_last_pixel(site: Path, stranger: TestClient) -> None:
    video = next((site / "clips" / "dune-face-on").glob("*.mp4"))
    pictures = list(take_pictures(video, read_index(video), [0, 7, 20]))
    assert [frame for frame, _ in pictures] == [0, 7, 20]
    for frame, taken in pictures:
        answer = stranger.get(f"{CLIP}/pictures/{frame}.webp")
        assert (
            answer.headers["content-type"] == "image/webp" and "immutable" in answer.headers["cache-control"]
        )
        np.testing.assert_array_equal(_pixels(answer.content), taken)


def test_a_stretch_is_the_presss_pictures_one_after_another(
    site: Path, desk: Desk, stranger: TestClient
) -> None:
    video = next((site / "clips" / "dune-face-on").glob("*.mp4"))
    told = stranger.get(CLIP).json()
    width, height = told["size"]
    answer = stranger.get(told["stretch"].replace("{first}", "9").replace("{last}", "14"))
    size = 4 + 4 * width * height
    assert len(answer.content) == 6 * size and desk.pictures.sent == 6
    for number, (frame, taken) in enumerate(take_pictures(video, read_index(video), range(9, 15))):
        content = answer.content[number * size : (number + 1) * size]
        assert int.from_bytes(content[:4], "little") == frame
        shown = np.frombuffer(content[4:], np.uint8).reshape(height, width, 4)
        np.testing.assert_array_equal(shown[..., :3], taken)
        assert (shown[..., 3] == 255).all()


def test_a_stretch_ends_with_its_reader(desk: Desk, site: Path) -> None:
    clip = desk.live.clip("dune-face-on")
    pictures = desk.pictures.stretch(roll_of(desk.live, clip), 0, 20)
    next(pictures)
    pictures.close()  # type: ignore[attr-defined]
    assert desk.pictures.sent == 1 and next(pictures, None) is None


def test_thumbnails_are_small_and_upright(stranger: TestClient) -> None:
    thumbnail = _pixels(stranger.get(f"{CLIP}/thumbnails/3.webp").content)
    assert thumbnail.shape[0] == 96 and abs(thumbnail.shape[1] / 96 - 640 / 400) < 0.02


def test_frames_that_are_not_there_are_reported(stranger: TestClient) -> None:
    last = stranger.get(CLIP).json()["frames"]
    for frame in (str(last), "99999999999", "x", "1.5", "-1"):
        assert stranger.get(f"{CLIP}/pictures/{frame}.webp").status_code == 404
        assert stranger.get(f"{CLIP}/stretches/0-{frame}").status_code == 404


def test_the_curve_of_change_has_a_row_for_each_frame_but_the_first(stranger: TestClient) -> None:
    frames = stranger.get(CLIP).json()["frames"]
    told = stranger.get(f"{CLIP}/motion").json()
    assert [row[0] for row in told["changes"]] == list(range(1, frames))
    assert stranger.get(f"{CLIP}/motion").json() == told
