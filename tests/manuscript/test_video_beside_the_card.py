"""A video must be a file of the site itself: anything else is reported where the card names it."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from lessonpress.manuscript import read_site
from lessonpress.manuscript.text.memory import Memory
from tests.manuscript.documents import SOUND, lay_out

VIDEO = Path("clips", "dune", "dune.mp4")


def _link_to(target: Path) -> Callable[[Path], None]:
    return lambda video: video.symlink_to(target)


def _link_out(video: Path) -> None:
    outside = video.parents[3] / "elsewhere.mp4"
    outside.write_bytes(b"a video")
    video.symlink_to(outside)


IN_ITS_PLACE: dict[str, tuple[Callable[[Path], None], str]] = {
    "a link to a drive that is away": (_link_to(Path("/absent/drive/dune.mp4")), "leads to no file"),
    "a link to itself": (_link_to(Path("dune.mp4")), "leads to no file"),
    "a link out of the site": (_link_out, "link out of the site"),
    "a link to a device": (_link_to(Path("/dev/zero")), "link out of the site"),
    "a folder": (lambda video: video.mkdir(), "is a folder"),
    "a pipe": (lambda video: os.mkfifo(video), "is a pipe or a device"),
}


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = tmp_path / "site"
    lay_out(SOUND, root)
    return root


@pytest.mark.parametrize("case", IN_ITS_PLACE)
def test_what_is_no_file_of_the_site_is_reported_at_the_card(root: Path, case: str) -> None:
    make, wrong = IN_ITS_PLACE[case]
    (root / VIDEO).unlink()
    make(root / VIDEO)
    _, problems = read_site(root)
    (error,) = problems.errors
    assert (error.location.path, error.location.source) == ("clips/dune/clip.yaml", "video: dune.mp4")
    assert wrong in error.wrong and error.right


def test_a_link_to_a_file_of_the_site_is_as_good_as_the_file(root: Path) -> None:
    kept = root / "films" / "dune.mp4"
    kept.parent.mkdir()
    (root / VIDEO).rename(kept)
    (root / VIDEO).symlink_to(kept)
    _, problems = read_site(root)
    assert problems.errors == []


def test_a_drive_that_went_away_between_two_readings_is_noticed(root: Path) -> None:
    memory = Memory()
    kept = root / "dune.mp4"
    (root / VIDEO).rename(kept)
    (root / VIDEO).symlink_to(kept)
    assert read_site(root, memory=memory)[1].errors == []
    kept.unlink()
    assert len(read_site(root, memory=memory)[1].errors) == 1
