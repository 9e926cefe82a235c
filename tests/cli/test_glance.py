"""A press typed again is answered at a glance while nothing changed, and by no means where something did."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from lessonpress.cli import glance
from lessonpress.cli.glance import leave_note, say_again
from lessonpress.records.theme import theme_folder

TEXTS = ("a warning\n", "site: 3 pages, nothing to do\n")
INPUTS = (("file", "site.yaml"), ("folder", "lessons"), ("file", "lessons/one.md"), ("library", "numpy"))


@pytest.fixture
def noted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The words of a press whose note was left: of a site of one lesson, its files at rest."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(glance, "_TICK", -(10**12))  # so that no test waits until files have rested
    for path in (
        "site.yaml",
        "lessons/one.md",
        "build/site/index.html",
        "build/cache/CACHEDIR.TAG",
        "build/site.changes.json",
    ):
        file = tmp_path / "notebook" / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(path, encoding="utf-8")
    (tmp_path / "notebook" / "build" / "cache" / "unfinished").mkdir()
    words = ["press", "notebook"]
    _leave(words)
    return words


def _leave(words: list[str], inputs: tuple[tuple[str, str], ...] = INPUTS) -> None:
    leave_note(words, "notebook", "notebook/build/site", time.time_ns(), inputs, TEXTS)


def test_the_same_words_are_answered_with_what_was_said(
    noted: list[str], capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert say_again(noted)
    said = capsysbinary.readouterr()
    assert (said.err.decode(), said.out.decode()) == TEXTS
    assert not say_again([*noted, "--drafts"])


def _same_size_and_time(root: Path) -> None:
    """As a copying program writes that keeps times; the system's own time of change tells."""
    file = root / "lessons" / "one.md"
    before = file.stat()
    file.write_text("lessons/two.md", encoding="utf-8")
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert (file.stat().st_size, file.stat().st_mtime_ns) == (before.st_size, before.st_mtime_ns)


def _into_its_place(root: Path) -> None:
    (root / "lessons" / "new.tmp").write_text("lessons/one.md", encoding="utf-8")
    (root / "lessons" / "new.tmp").replace(root / "lessons" / "one.md")


def _another_file(root: Path) -> None:
    (root / "lessons" / "two.md").write_text("", encoding="utf-8")


CHANGES: dict[str, Callable[[Path], object]] = {
    "a lesson written over, with its size and time": _same_size_and_time,
    "a lesson put in the place of one that says the same": _into_its_place,
    "a lesson more": _another_file,
    "a lesson less": lambda root: (root / "lessons" / "one.md").unlink(),
    "a folder renamed": lambda root: (root / "lessons").rename(root / "lesson"),
    "a pressed page written over": lambda root: (root / "build/site/index.html").write_text("index of site"),
    "a file more in the pressed folder": lambda root: (root / "build/site/CNAME").write_text("club.example"),
    "the pressed folder gone": lambda root: (root / "build/site").rename(root / "build/old"),
    "the list of changes gone": lambda root: (root / "build/site.changes.json").unlink(),
    "a press that was killed": lambda root: (root / "build" / ".site.pressing-01234567").mkdir(),
    "a press at work": lambda root: (root / "build" / ".site.pressing-now.lock").touch(),
    "an entry half written": lambda root: (root / "build/cache/unfinished/.x.saving").touch(),
}


@pytest.mark.parametrize("change", CHANGES)
def test_any_change_is_left_to_the_press(noted: list[str], tmp_path: Path, change: str) -> None:
    CHANGES[change](tmp_path / "notebook")
    assert not say_again(noted)


def test_another_folder_path_or_python_is_left_to_the_press(
    noted: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as other:
        other.setattr(sys, "path", [*sys.path, str(tmp_path)])
        assert not say_again(noted)
    with monkeypatch.context() as other:
        other.setattr(sys, "version", "3.99")
        assert not say_again(noted)
    with monkeypatch.context() as other:
        other.chdir("notebook")
        assert not say_again(["press", "."]) and not say_again(noted)
    assert say_again(noted)


def test_a_damaged_note_is_not_believed(noted: list[str], tmp_path: Path) -> None:
    (note,) = (path for path in (tmp_path / "notebook/build/cache/again").rglob("*") if path.is_file())
    whole = note.read_bytes()
    for damaged in (b"", whole[:-1], whole.replace(b"3 pages", b"4 pages"), b"\xff" + whole, whole + b"\0"):
        note.write_bytes(damaged)
        assert not say_again(noted)


@pytest.mark.parametrize("path", ["../elsewhere.md", ".hidden/paper.pdf", "build/paper.pdf"])
def test_no_note_is_left_where_an_input_is_not_gone_through(noted: list[str], path: str) -> None:
    words = [*noted, "--why"]
    _leave(words, (*INPUTS, ("file", path)))
    assert not say_again(words)
    _leave(words)
    assert say_again(words)


def test_no_note_is_left_for_files_that_could_have_changed_while_they_were_read(
    noted: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(glance, "_TICK", 2_000_000_000)
    words = [*noted, "--why"]
    _leave(words)
    assert not say_again(words)


def test_a_changed_program_theme_or_library_is_left_to_the_press(
    noted: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for folder, files in (("package/press", "run.py"), ("themes/plain", "theme.yaml"), ("libraries", "x")):
        (tmp_path / folder).mkdir(parents=True)
        (tmp_path / folder / files).touch()
    monkeypatch.setattr(glance, "_PACKAGE", str(tmp_path / "package"))
    monkeypatch.setattr(glance, "_folders_of", lambda _: [str(tmp_path / "libraries")])
    for changed in ("package/press/run.py", "themes/plain/theme.yaml"):
        _leave(noted)
        assert say_again(noted)
        (tmp_path / changed).write_text("other", encoding="utf-8")
        assert not say_again(noted)
    _leave(noted)
    (tmp_path / "libraries" / "x-2.0.dist-info").mkdir()
    assert not say_again(noted)


def test_themes_are_looked_for_where_the_press_takes_them_from() -> None:
    assert str(theme_folder().parent) in glance._theme_folders()


def test_a_press_typed_again_imports_neither_click_nor_the_press(own_site: Path) -> None:
    run = "import sys; from lessonpress.cli import main; main(); print(sorted(sys.modules))"
    said = ""
    for _ in range(40):  # until its files have come to rest, and it is answered before the program ends
        done = subprocess.run([sys.executable, "-c", run, "press", str(own_site)], capture_output=True)
        assert done.returncode == 0, done.stderr
        said = done.stdout.decode()
        if "'lessonpress.cli.glance'" in said:
            break
        time.sleep(0.2)
    assert "'lessonpress.cli.glance'" in said and "nothing to do\n" in said
    assert "'click'" not in said and "'pathlib'" not in said and "lessonpress.press" not in said


@pytest.mark.parametrize(
    ("zone", "later", "answered"),
    [("Pacific/Kiritimati", 3, False), ("Pacific/Kiritimati", 1, True), ("Etc/UTC", 3, True)],
)
def test_a_note_ends_with_the_day_of_the_sites_time_zone(
    noted: list[str], monkeypatch: pytest.MonkeyPatch, zone: str, later: int, answered: bool
) -> None:
    """08:00 UTC on a day on which Kiritimati, 14 h ahead (IANA time zone database), has 22:00."""
    began = int(datetime(2032, 3, 2, 8, tzinfo=UTC).timestamp()) * 10**9
    inputs = (*INPUTS, ("day", f"{zone} today"))
    leave_note(noted, "notebook", "notebook/build/site", began, inputs, TEXTS)
    monkeypatch.setattr(glance.time, "time_ns", lambda: began + later * 3600 * 10**9)
    assert say_again(noted) == answered


def test_a_clock_set_back_before_the_press_is_not_believed(
    noted: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(glance.time, "time_ns", lambda: 0)
    assert not say_again(noted)
