"""A file of a site is brought back to what it was before a save; the last hundred saves are kept."""

from __future__ import annotations

import os
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from lessonpress.desk.files.lessonfile import create, put_block, save
from lessonpress.desk.http.requests import TextEdit
from lessonpress.press import saves
from lessonpress.press.saves import MOST, forget_saves, keep_save, restore, saves_of
from lessonpress.records import UsageError

BLOCK = "```caution\nKeep clear.\n```"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = tmp_path / "notebook"
    root.mkdir()
    (root / "site.yaml").write_text("title: Notebook\n")
    return root


@pytest.fixture
def lesson(root: Path) -> Path:
    file = root / "lessons/hub.md"
    create(file, "---\ntitle: The hub\ndate: 2026-11-01\n---\n\nOne.\n")
    return file


def written(file: Path, number: int) -> None:
    """A save as the desk makes them."""
    text = file.read_text()
    head = text.rpartition("\n\n")[0]
    save(file, TextEdit(was=text, to=f"{head}\n\nNumber {number}.\n"))


def test_a_restored_file_is_what_it_was_and_restoring_again_undoes_it(root: Path, lesson: Path) -> None:
    first = lesson.read_bytes()
    put_block(lesson, BLOCK, 6)
    second = lesson.read_bytes()
    assert restore(root, lesson).content == lesson.read_bytes() == first
    restore(root, lesson)
    assert lesson.read_bytes() == second


def test_a_file_that_was_deleted_comes_back_and_an_earlier_save_by_its_number(
    root: Path, lesson: Path
) -> None:
    first = lesson.read_bytes()
    written(lesson, 1)
    before = lesson.read_bytes()
    written(lesson, 2)
    lesson.unlink()
    restore(root, Path("lessons/hub.md"))
    assert lesson.read_bytes() == before
    restore(root, lesson, 1)
    assert lesson.read_bytes() == first


def test_the_last_hundred_are_kept_in_the_order_of_saving_also_when_the_clock_is_set_back(
    root: Path, lesson: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    days = iter(range(1000))

    class Backward(datetime):
        @classmethod
        def now(cls, tz: object = None) -> datetime:  # type: ignore[override]
            return datetime(2026, 11, 1, tzinfo=UTC) - timedelta(days=next(days))

    monkeypatch.setattr(saves, "datetime", Backward)
    for number in range(MOST + 5):
        written(lesson, number)
    kept = saves_of(root)
    assert [one.number for one in kept] == list(range(MOST + 5, 5, -1))
    assert kept[0].content.endswith(f"Number {MOST + 3}.\n".encode())


@pytest.mark.parametrize("damage", ["cut", "another's", "empty"])
def test_a_save_that_was_damaged_is_not_believed(root: Path, lesson: Path, damage: str) -> None:
    written(lesson, 1)
    before = lesson.read_bytes()
    written(lesson, 2)
    written(lesson, 3)
    entries = sorted((root / "build/cache/saves").glob("*/*"))
    newest = {"cut": entries[-1].read_bytes()[:-1], "another's": entries[0].read_bytes(), "empty": b""}
    entries[-1].write_bytes(newest[damage])
    assert [one.number for one in saves_of(root)] == [2, 1]
    restore(root, lesson)
    assert lesson.read_bytes() == before


def test_what_was_never_saved_or_lies_elsewhere_is_refused(root: Path, lesson: Path) -> None:
    written(lesson, 1)
    with pytest.raises(UsageError, match=r"no save of site.yaml is kept; of these there are: lessons/hub.md"):
        restore(root, Path("site.yaml"))
    with pytest.raises(UsageError, match="does not lie in the site"):
        restore(root, root.parent / "hub.md")
    with pytest.raises(UsageError, match="its saves are 1"):
        restore(root, lesson, 7)
    (root.parent / "elsewhere").mkdir()
    (root / "out").symlink_to(root.parent / "elsewhere")
    with pytest.raises(UsageError, match="does not lie in the site"):
        restore(root, root / "out/hub.md")


def test_a_file_is_saved_also_where_its_past_cannot_be_kept(root: Path, lesson: Path) -> None:
    (root / "build").write_text("a file where the folder of the cache would be")
    written(lesson, 1)
    assert lesson.read_text().endswith("Number 1.\n")
    assert saves_of(root) == []


def test_saves_of_what_is_withdrawn_are_forgotten_and_others_stay(root: Path, lesson: Path) -> None:
    for path, content in {
        "lessons/dune.md": b"A lesson.",
        "lessons/names.md": b"Thanks to MARRAM Thrift.",
        "lessons/hub.md": b"The hub.",
    }.items():
        keep_save(root / path, content)
    forget_saves(root, ("lessons/dune.md", "clips/dune/"), ("Marram Thrift",))
    assert [one.path for one in saves_of(root)] == ["lessons/hub.md"]


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="root may write everywhere")
def test_in_a_folder_that_can_only_be_read_nothing_changes(root: Path, lesson: Path) -> None:
    before = lesson.read_bytes()
    lesson.parent.chmod(0o555)
    with pytest.raises(OSError, match="denied"):
        written(lesson, 1)
    assert lesson.read_bytes() == before
