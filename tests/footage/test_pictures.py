"""A picture taken by a jump is the picture that plain playing shows."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import av
import numpy as np
import pytest
from av.video.frame import VideoFrame

from lessonpress.footage.video.colour import Developer
from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_pictures
from lessonpress.footage.video.playing import check_sum
from tests.footage.conftest import numbered
from tests.studio import strip
from tests.studio.film import encode


@pytest.mark.parametrize("name", ["bigbuckbunny", "bikes", "carphone_pristine", "carphone_distorted"])
def test_on_camera_clips_a_picture_equals_the_one_of_a_plain_decode(
    real_clips: dict[str, Path], name: str
) -> None:
    path = real_clips[name]
    index = read_index(path)
    asked = sorted({0, 1, 50, 77, len(index) - 1} | set(range(3, len(index), 41)))
    taken = dict(take_pictures(path, index, asked))
    developer = Developer()
    with av.open(str(path)) as container:
        played = {
            number: developer.rgb(frame)
            for number, frame in enumerate(container.decode(video=0))
            if number in asked
        }
    assert sorted(taken) == asked == sorted(played)
    for number in asked:
        np.testing.assert_array_equal(taken[number], index.upright.picture(played[number]))


def test_frames_come_in_order_and_once(tmp_path: Path) -> None:
    path = encode(tmp_path / "clip.mp4", numbered(80), gop=10)
    index = read_index(path)
    assert [number for number, _ in take_pictures(path, index, [70, 3, 3, 41, 70])] == [3, 41, 70]


def test_only_what_is_needed_is_decoded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 300 pictures with a key frame in every 30, the last one costs 30 at most."""
    path = encode(tmp_path / "long.mp4", numbered(300), gop=30, b_frames=2)
    index = read_index(path)
    decoded: list[VideoFrame] = []

    def noticed(frame: VideoFrame) -> int:
        decoded.append(frame)
        return check_sum(frame)

    monkeypatch.setattr("lessonpress.footage.video.pictures.check_sum", noticed)
    assert [strip.read(picture) for _, picture in take_pictures(path, index, [299])] == [299]
    assert 0 < len(decoded) <= 30


def test_a_jump_that_arrives_at_the_wrong_picture_is_mended_by_playing_from_the_beginning(
    tmp_path: Path,
) -> None:
    path = encode(tmp_path / "clip.mp4", numbered(60), gop=60)
    index = read_index(path)
    misled = replace(index, key_frames=(0, 30))  # there is no key frame at 30
    assert [strip.read(picture) for _, picture in take_pictures(path, misled, [2, 45])] == [2, 45]


def test_a_frame_past_the_end_is_refused_with_the_last_one_named(tmp_path: Path) -> None:
    path = encode(tmp_path / "clip.mp4", numbered(10))
    with pytest.raises(FootageError, match=r"no frame 10.*from 0 to 9"):
        list(take_pictures(path, read_index(path), [4, 10]))


def test_a_file_that_changed_since_it_was_indexed_is_refused(tmp_path: Path) -> None:
    path = encode(tmp_path / "clip.mp4", numbered(10))
    index = read_index(path)
    encode(path, numbered(20))
    with pytest.raises(FootageError, match="changed since"):
        list(take_pictures(path, index, [4]))


@pytest.mark.parametrize(("plane", "line"), [(0, 3), (0, 8), (1, 5), (2, 0)])
def test_a_check_sum_knows_a_pixel_of_any_line_and_plane(plane: int, line: int) -> None:
    """Pictures of a damaged film may differ by a few lines, or in their colours alone."""
    frame = VideoFrame.from_ndarray(np.full((48, 32), 90, dtype=np.uint8), format="yuv420p")
    before = check_sum(frame)
    there = frame.planes[plane]
    np.frombuffer(memoryview(there), dtype=np.uint8).reshape(-1, there.line_size)[line, 5] += 1
    assert check_sum(frame) != before
