"""What reads a video in a process of its own: whatever becomes of that, the caller goes on with a reason."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.guarded import Bounds, apart, read_index
from lessonpress.footage.video.index import read_index as read_here
from tests.footage.conftest import numbered
from tests.studio.film import encode

BOUNDS = Bounds(200_000_000, 2)


def crash(path: Path) -> None:
    os.abort()


def never_end(path: Path) -> None:
    while True:
        pass


def fill_the_memory(path: Path) -> int:
    return len(b"\1" * 2_000_000_000)


def find_fault(path: Path) -> None:
    raise FootageError("it is upside down", "turn it")


@pytest.mark.skipif(sys.platform == "win32", reason="processes have no such bounds there")
@pytest.mark.parametrize(
    ("work", "said"),
    [
        (crash, "a.mp4 ends the decoder that reads it"),
        (never_end, "a.mp4 was not read to its end in 2 s"),
        (fill_the_memory, "a.mp4 wants more than 0 GB of memory"),
        (find_fault, "it is upside down; turn it"),
    ],
)
def test_what_becomes_of_the_process_is_the_files_fault(work: object, said: str) -> None:
    with pytest.raises(FootageError, match=said):
        apart(work, Path("a.mp4"), BOUNDS)  # type: ignore[arg-type]


def test_a_sound_video_is_read_as_it_is_in_this_process(tmp_path: Path) -> None:
    path = encode(tmp_path / "a.mp4", numbered(5))
    assert read_index(path) == read_here(path)
    with pytest.raises(FootageError, match=r"there is no file b\.mp4"):
        read_index(tmp_path / "b.mp4")
