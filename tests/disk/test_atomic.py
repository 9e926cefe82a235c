"""Whatever stops a save, the file is the old one or the new one."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from lessonpress.disk.atomic import remove_unfinished, write_atomically, write_new
from lessonpress.disk.lock import lock

KILLS = 50
MOST_KILLS = 1000  # on a machine so busy that none of the first fifty falls into a save
ROOM = 400_000  # bytes: writing them takes most of a save's time, so that most kills fall into it


def _content(count: int) -> bytes:
    """The file after so many saves."""
    return b"navel: {%d: [1, 2]}\n" % count + b"# kept by hand\n" * (ROOM // 15)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork, to be killed in the middle of a save")
def test_a_save_that_is_killed_fifty_times_leaves_the_old_file_or_the_new_one(tmp_path: Path) -> None:
    path = tmp_path / "marks.yaml"
    left: list[Path] = []
    for number in range(MOST_KILLS):
        if number >= KILLS and left:
            break
        path.write_bytes(_content(0))
        ended = _killed_while_saving(path, after=number % 7)
        assert path.read_bytes() in (_content(ended), _content(ended + 1)), f"kill {number}"
        left = [beside for beside in tmp_path.iterdir() if beside != path]
    assert left, "no kill fell into a save"
    remove_unfinished(tmp_path)
    assert list(tmp_path.iterdir()) == [path]


def _killed_while_saving(path: Path, after: int) -> int:
    """A process that saves again and again, killed while it is at it; how many saves it had ended before."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            for count in range(1, 10_000):
                write_atomically(path, _content(count))
                os.write(writing, b".")
        finally:
            os._exit(0)
    os.close(writing)
    ended = 0
    while ended <= after:
        ended += len(os.read(reading, 1))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while more := os.read(reading, 4096):
        ended += len(more)
    os.close(reading)
    return ended


def test_a_save_that_fails_leaves_the_file_and_nothing_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "marks.yaml"
    path.write_bytes(b"old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_atomically(path, b"new")
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("marks.yaml", b"old")]


def test_a_file_whose_name_is_as_long_as_names_can_be_is_saved(tmp_path: Path) -> None:
    """255 bytes, by common file systems (from memory)."""
    place = tmp_path / ("a" * 252 + ".md")
    write_atomically(place, b"new")
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [(place.name, b"new")]


def test_a_saved_file_keeps_its_permissions(tmp_path: Path) -> None:
    path = tmp_path / "marks.yaml"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_atomically(path, b"new")
    assert path.read_bytes() == b"new" and path.stat().st_mode & 0o777 == 0o640


def test_what_a_living_writer_has_open_is_not_tidied_away(tmp_path: Path) -> None:
    written = tmp_path / ".marks.yaml.0badcafe.saving"
    with written.open("wb") as file:
        assert lock(file)
        remove_unfinished(tmp_path)
        assert written.exists()
    remove_unfinished(tmp_path)
    assert not written.exists()


@pytest.mark.parametrize("links", [True, False])
def test_a_new_file_takes_the_place_of_none(
    tmp_path: Path, links: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not links:  # as on a disk that has none
        monkeypatch.setattr(os, "link", lambda *_: (_ for _ in ()).throw(PermissionError))
    path = tmp_path / "lesson.md"
    write_new(path, b"first")
    with pytest.raises(FileExistsError):
        write_new(path, b"second")
    assert path.read_bytes() == b"first"
    assert list(tmp_path.iterdir()) == [path]


def test_of_one_file_alone_what_was_left_is_tidied_away(tmp_path: Path) -> None:
    name = "[notes] of a name that is longer than what is kept of it.json"
    for left in (f".{name[:40]}.0badcafe.saving", ".marks.yaml.0badcafe.saving"):
        (tmp_path / left).touch()
    remove_unfinished(tmp_path, name)
    assert [path.name for path in tmp_path.iterdir()] == [".marks.yaml.0badcafe.saving"]
