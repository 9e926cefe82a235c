"""The report of a fault has the way to it, and none of an author's words, names or places."""

from __future__ import annotations

import errno
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import pytest

from lessonpress.cli.commands import COMMANDS
from lessonpress.cli.report import report_of, write_report
from lessonpress.press.cache import Cache

SECRETS = ["Marram", "Thrift", "hub-of-her-swing", "/home/", "Dune Road"]


def find_fault(words: str) -> None:
    raise ValueError(f"{words} of Marram Thrift, Dune Road 1")


def fault_of(folder: Path) -> Exception:
    """One that came out of another, with words of a lesson and a path in what they say."""
    try:
        try:
            find_fault("hub-of-her-swing")
        except ValueError as error:
            raise OSError(errno.ENOSPC, "no space for Marram", "/home/thrift/hub-of-her-swing.md") from error
    except OSError as error:
        return error


def test_it_has_the_way_to_the_fault_and_no_words_of_the_author(tmp_path: Path) -> None:
    words = ["press", "/home/thrift/hub-of-her-swing", "--as-of=Marram", "--drafts", "-x", "Thrift"]
    report = report_of(fault_of(tmp_path), words)
    assert not [secret for secret in SECRETS if secret.casefold() in report.casefold()]
    assert "asked for: press … --as-of=… --drafts -x …" in report
    for said in ("test_report.py", "find_fault", "builtins.ValueError", "builtins.OSError, number 28"):
        assert said in report
    assert "numpy " in report or "is not installed" in report


def test_the_way_through_the_program_is_named_by_its_modules(tmp_path: Path) -> None:
    (tmp_path / "build").write_text("a file")
    with pytest.raises(OSError) as caught:
        Cache(tmp_path / "build" / "cache").entry("a", "b").keep(b"")
    report = report_of(caught.value, [])
    assert "  lessonpress/press/cache.py:" in report and "keep" in report
    assert str(tmp_path) not in report and str(Path(__file__).parent) not in report


def test_a_fault_in_a_worker_has_the_workers_way() -> None:
    with ProcessPoolExecutor(1) as pool, pytest.raises(ValueError, match="Marram") as caught:
        pool.submit(find_fault, "hub-of-her-swing").result()
    report = report_of(caught.value, [])
    assert "find_fault" in report and "process.py" in report
    assert not [secret for secret in SECRETS if secret.casefold() in report.casefold()]


def test_every_command_may_be_named_and_a_report_lies_where_it_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    for command in COMMANDS:
        assert f"asked for: {command} …" in report_of(ValueError(), [command, "Marram"])
    path = write_report(ValueError())
    assert path is not None and path.parent == tmp_path and path.is_file()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "nowhere"))
    assert write_report(ValueError()) is None
