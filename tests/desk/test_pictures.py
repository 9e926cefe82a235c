"""The desk shows the exact pictures that the press takes."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from PIL import Image
from starlette.testclient import TestClient

from lessonpress.desk.http.context import Desk
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


def test_a_step_near_the_last_one_is_decoded_beforehand(desk: Desk, stranger: TestClient) -> None:
    stranger.get(f"{CLIP}/pictures/12.webp")
    desk.pictures.settle()
    waited = desk.pictures.waited
    for frame in (11, 13, 14, 8):
        assert stranger.get(f"{CLIP}/pictures/{frame}.webp").status_code == 200
    assert desk.pictures.waited == waited


def test_thumbnails_are_small_and_upright(stranger: TestClient) -> None:
    thumbnail = _pixels(stranger.get(f"{CLIP}/thumbnails/3.webp").content)
    assert thumbnail.shape[0] == 96 and abs(thumbnail.shape[1] / 96 - 640 / 400) < 0.02


def test_frames_that_are_not_there_are_reported(stranger: TestClient) -> None:
    last = stranger.get(CLIP).json()["frames"]
    for frame in (str(last), "99999999999", "x", "1.5", "-1"):
        assert stranger.get(f"{CLIP}/pictures/{frame}.webp").status_code == 404


def test_the_curve_of_change_has_a_row_for_each_frame_but_the_first(stranger: TestClient) -> None:
    frames = stranger.get(CLIP).json()["frames"]
    told = stranger.get(f"{CLIP}/motion").json()
    assert [row[0] for row in told["changes"]] == list(range(1, frames))
    assert stranger.get(f"{CLIP}/motion").json() == told
