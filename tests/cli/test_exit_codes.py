"""The program has one exit code for each way things go, and says what went wrong in one line."""

from __future__ import annotations

import errno
import re
import subprocess
import sys
from concurrent.futures import BrokenExecutor
from pathlib import Path

import click
import pytest

from lessonpress.cli.commands import lessonpress
from lessonpress.cli.exit_codes import SiteProblemsError, exit_code_of
from lessonpress.cli.libraries import heavy_libraries
from lessonpress.records.fault import MachineError, UsageError


def _raising(error: BaseException) -> int:
    def command() -> None:
        raise error

    return exit_code_of(command)


@pytest.fixture(autouse=True)
def _reports_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))


@pytest.mark.parametrize(
    "error, code",
    [
        (SiteProblemsError(), 1),
        (UsageError("not like that"), 2),
        (click.UsageError("not like that"), 2),
        (MachineError("no library"), 3),
        (OSError(errno.ENOSPC, "No space left on device", "site/index.html"), 3),
        (PermissionError(errno.EACCES, "Permission denied", "site"), 3),
        (OSError(errno.ENAMETOOLONG, "File name too long", "a" * 300), 2),
        (ZeroDivisionError("division by zero"), 3),
        (BrokenExecutor("a process in the pool ended"), 3),
        (KeyboardInterrupt(), 130),
        (click.Abort(), 130),
    ],
)
def test_each_way_to_fail_has_its_code(error: BaseException, code: int) -> None:
    assert _raising(error) == code


@pytest.mark.parametrize(
    "words",
    [
        ["press", "a" * 300],
        ["start", "a" * 300],
        ["start", "words.txt/site"],
        ["ingest", "words.txt", "--site", "a" * 300],
    ],
)
def test_a_name_that_no_file_can_have_is_the_commands_mistake(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("words.txt").touch()
    assert exit_code_of(lambda: lessonpress(words, standalone_mode=False)) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["words.txt"]


def test_what_ends_well_exits_with_0() -> None:
    assert exit_code_of(lambda: None) == 0


@pytest.mark.parametrize(
    "error, said",
    [
        (
            OSError(errno.ENOSPC, "No space left on device", "site/index.html"),
            "the disk is full: site/index.html",
        ),
        (PermissionError(errno.EACCES, "Permission denied", "site"), "no permission: site"),
        (
            ZeroDivisionError("division by zero\nmore"),
            "a fault of the program's own, ZeroDivisionError: division by zero",
        ),
    ],
)
def test_a_fault_is_one_line_with_a_report_that_says_the_rest(
    error: Exception, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    _raising(error)
    captured = capsys.readouterr()
    assert captured.out == ""
    (line,) = captured.err.splitlines()
    found = re.fullmatch(rf"lessonpress: {re.escape(said)} \(report: (.+)\)", line)
    assert found, line
    report = Path(found[1]).read_text(encoding="utf-8")
    assert type(error).__name__ in report
    assert "test_exit_codes.py" in report


@pytest.mark.parametrize(
    "missing, package",
    [
        # What the loader says of a missing library, and where Debian 12 keeps it (packages.debian.org).
        ("libGL.so.1", "libgl1"),
        ("libgthread-2.0.so.0", "libglib2.0-0"),
        ("libSomethingElse.so.9", "libgl1 libglib2.0-0"),
    ],
)
def test_a_missing_system_library_is_reported_with_the_package_that_brings_it(
    missing: str, package: str
) -> None:
    with (
        pytest.raises(MachineError, match=rf"{re.escape(missing)}.*apt-get install {package}$"),
        heavy_libraries(),
    ):
        raise ImportError(f"{missing}: cannot open shared object file: No such file or directory")


def test_an_import_that_fails_for_another_reason_is_not_dressed_up() -> None:
    with pytest.raises(ImportError, match="no such name"), heavy_libraries():
        raise ImportError("no such name")


LEAVING = """
import sys, threading
from lessonpress.cli.exit_codes import INTERRUPTED, exit_with

def work():
    if sys.argv[1] == "interrupted":
        threading.Event().wait()
    threading.main_thread().join()
    print("the work is done")

threading.Thread(target=work).start()
print("last words")
exit_with(INTERRUPTED if sys.argv[1] == "interrupted" else 0)
"""


@pytest.mark.parametrize(
    ("way", "code", "said"),
    [("interrupted", 130, "last words\n"), ("in peace", 0, "last words\nthe work is done\n")],
)
def test_an_interrupt_does_not_wait_for_work_and_nothing_else_cuts_it_short(
    way: str, code: int, said: str
) -> None:
    """Work that never ends, and work that ends after the main thread has."""
    done = subprocess.run([sys.executable, "-c", LEAVING, way], capture_output=True, text=True, timeout=120)
    assert (done.returncode, done.stdout) == (code, said)
