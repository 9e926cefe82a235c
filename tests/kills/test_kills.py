"""A few kills at random moments, and a full disk; `python -m tests.kills` does a hundred kills."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from lessonpress.records import UsageError
from tests.kills.kills import LESSON, Work, copied, kill_at_random, left_wrong, on_full_disk, works

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and kill -9")


@pytest.fixture(scope="module")
def every(tmp_path_factory: pytest.TempPathFactory) -> list[Work]:
    return works(tmp_path_factory.mktemp("kills"))


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """An empty disk of 24 MB, where the test may mount one."""
    at = tmp_path / "disk"
    at.mkdir()
    mount = shutil.which("mount")
    if (
        mount is None
        or subprocess.run([mount, "-t", "tmpfs", "-o", "size=24m", "none", at], check=False).returncode
    ):
        pytest.skip("no disk may be mounted here")
    yield at
    subprocess.run(["umount", at], check=True)


def test_whatever_is_killed_leaves_every_file_old_or_new(every: list[Work]) -> None:
    killed = list(kill_at_random(every, 5, seed=5))
    assert {one.work for one in killed} == {"press", "saves", "withdrawal", "restore", "rename"}
    assert [one for one in killed if one.wrong] == []


def test_on_a_full_disk_every_file_is_old_or_new(every: list[Work], disk: Path) -> None:
    harmed = {work.name: wrong for work in every if (wrong := on_full_disk(work, disk))}
    assert harmed == {}


def test_on_a_disk_that_can_only_be_read_each_work_ends_with_a_reason(every: list[Work], disk: Path) -> None:
    for work in every:
        root = copied(work.start, disk / "notebook")
        subprocess.run(["mount", "-o", "remount,ro", disk], check=True)
        try:
            with pytest.raises((OSError, UsageError), match="ead-only file system"):
                work.does(root)
        finally:
            subprocess.run(["mount", "-o", "remount,rw", disk], check=True)


def test_harm_is_seen() -> None:
    """What is looked for, planted."""
    lesson = str(LESSON)
    before = {lesson: b"Old.\n", "site.yaml": b"title: A\n", "build/site/a": b"1", "build/site/b": b"1"}
    after = {**before, "build/site/a": b"2", "build/site/b": b"2"}
    assert not list(left_wrong(before, after, after))
    assert not list(left_wrong(before, after, {**before, lesson: b"Old.\n\nSaved 3.\n"}))
    neither = "site.yaml is neither the old file nor the new one"
    assert list(left_wrong(before, after, {**before, "site.yaml": b"tit"})) == [neither]
    assert next(left_wrong(before, after, {**before, lesson: b"Ol"})).startswith(lesson)
    mixed = {**before, "build/site/a": b"2"}
    assert list(left_wrong(before, after, mixed)) == ["the pressed site is no whole press"]
    gone = {path: content for path, content in before.items() if path != "site.yaml"}
    assert list(left_wrong(before, after, gone)) == ["site.yaml is gone"]
