"""Only regular files inside the site are read, none without an end, whatever is in a text's place."""

from __future__ import annotations

import os
import socket
from pathlib import Path

import pytest

from lessonpress.manuscript import read_site
from lessonpress.manuscript.text.files import LARGEST, MOST_LINES
from lessonpress.records.problem import Problem
from tests.manuscript.documents import SOUND, lay_out

TEXTS = (
    "site.yaml",
    "glossary.yaml",
    "clips/dune/clip.yaml",
    "clips/dune/marks.yaml",
    "clips/dune/tracks.csv",
    "lessons/hips.md",
    "pages/about.md",
)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    site = tmp_path / "site"
    lay_out(SOUND, site)
    (site / "pages").mkdir()
    return site


def about(root: Path, text: str) -> list[Problem]:
    return [problem for problem in read_site(root)[1].errors if problem.location.path == text]


def only_wrong(root: Path, text: str) -> str:
    (problem,) = about(root, text)
    return problem.wrong


@pytest.mark.parametrize("text", TEXTS)
def test_a_pipe_in_a_texts_place_is_reported_and_not_waited_for(root: Path, text: str) -> None:
    (root / text).unlink(missing_ok=True)
    os.mkfifo(root / text)
    assert only_wrong(root, text) == "this is a pipe, and a text is expected here"


@pytest.mark.parametrize("text", TEXTS)
def test_a_folder_in_a_texts_place_is_reported(root: Path, text: str) -> None:
    (root / text).unlink(missing_ok=True)
    (root / text).mkdir()
    found = [problem.wrong for problem in read_site(root)[1].collected if problem.location.path == text]
    assert found in (["this is a folder, and a text is expected here"], ["this is not read"])


def test_a_socket_in_a_texts_place_is_reported(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(root)  # a socket's path has room for 107 bytes
    with socket.socket(socket.AF_UNIX) as one:
        one.bind("glossary.yaml")
        assert only_wrong(root, "glossary.yaml") == "this is a socket, and a text is expected here"


@pytest.mark.parametrize("text", TEXTS)
def test_a_link_out_of_the_site_is_refused_so_that_nothing_else_is_published(root: Path, text: str) -> None:
    outside = root.parent / "private.txt"
    outside.write_text("title: Kept to myself\n")
    (root / text).unlink(missing_ok=True)
    (root / text).symlink_to(outside)
    assert only_wrong(root, text) == "this is a link out of the site"


def test_a_folder_that_is_a_link_out_of_the_site_gives_none_of_its_texts(root: Path) -> None:
    (root.parent / "private").mkdir()
    (root.parent / "private" / "diary.md").write_text("---\ntitle: Diary\n---\nKept to myself.\n")
    (root / "pages").rmdir()
    (root / "pages").symlink_to(root.parent / "private")
    site, problems = read_site(root)
    assert site is not None and site.pages == {}
    assert [problem.wrong for problem in problems.errors] == ["this is a link out of the site"]


@pytest.mark.parametrize("device", ["/dev/zero", "/dev/random", "/dev/tty"])
def test_a_link_to_a_device_is_refused_unread(root: Path, device: str) -> None:
    (root / "glossary.yaml").symlink_to(device)
    assert only_wrong(root, "glossary.yaml") == "this is a link out of the site"


def test_a_link_within_the_site_is_read(root: Path) -> None:
    (root / "pages" / "one.md").write_text("---\ntitle: One\n---\nOnce.\n")
    (root / "pages" / "other.md").symlink_to("one.md")
    site, problems = read_site(root)
    assert problems.collected == []
    assert site is not None and site.pages["other"].title == "One"


def test_a_site_that_lies_behind_a_link_is_read(root: Path) -> None:
    (root.parent / "linked").symlink_to(root)
    site, problems = read_site(root.parent / "linked")
    assert problems.collected == []
    assert site is not None and [lesson.name for lesson in site.lessons] == ["hips"]


def test_links_that_lead_to_each_other_are_reported(root: Path) -> None:
    (root / "pages" / "one.md").symlink_to("other.md")
    (root / "pages" / "other.md").symlink_to("one.md")
    assert [problem.location.path for problem in read_site(root)[1].errors] == [
        "pages/one.md",
        "pages/other.md",
    ]


@pytest.mark.parametrize("text", TEXTS)
def test_a_text_that_is_too_large_is_reported_and_not_read(root: Path, text: str) -> None:
    with (root / text).open("wb") as file:
        file.truncate(40_000_000_000)  # a file with a hole: it takes no room, and read whole it would not fit
    assert only_wrong(root, text).startswith("the file is larger than")


def test_tracks_of_a_long_clip_are_within_the_bounds() -> None:
    """A minute at 240 pictures a second with sixteen marks tracked; rows as tracking writes them."""
    rows = 60 * 240 * 16
    longest = len("implement-head,14399,1919.99,1079.99,0.30\n")
    assert rows <= MOST_LINES
    assert rows * longest <= LARGEST["tracks.csv"]


def test_a_text_of_too_many_lines_is_reported(root: Path) -> None:
    (root / "clips" / "dune" / "tracks.csv").write_text("\n" * (MOST_LINES + 1))
    assert only_wrong(root, "clips/dune/tracks.csv") == f"the file has more than {MOST_LINES} lines"
