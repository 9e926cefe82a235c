"""The output folder: checked before anything is done, built aside, and swapped in whole.

Aside means a sibling, `.NAME.pressing-…`, so that the rename stays within one file system. The site it
replaces is kept as `.NAME.before-…` for the moment between the two renames; if the machine stops just
there, the next press puts it back.
"""

from __future__ import annotations

import os
import secrets
import shutil
import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from lessonpress.press.receipt import NAME, holds_receipt
from lessonpress.records.fault import UsageError

_LONGEST_NAME = 255  # bytes of one name, on the file systems in use (common practice)
_ADDED = 20  # bytes that the name of a sibling has more
_LONGEST_PATH = 3500  # bytes; Linux takes 4096 (PATH_MAX), and the paths of the site follow
_LEFT_BEHIND_AFTER = 24 * 3600.0  # s; a press that was killed cannot tidy up, and none runs for a day


def check(folder: Path) -> None:
    """Raises UsageError unless the folder is absent, empty, or holds the press.json of an earlier press."""
    _check_name(folder)
    if folder.is_symlink() and not folder.exists():
        raise UsageError(f"{folder} is a link to nothing; give a folder")
    if not folder.exists():
        return
    if not folder.is_dir():
        raise UsageError(f"{folder} is a file; give a folder that is absent, empty or pressed before")
    if any(folder.iterdir()) and not holds_receipt(folder):
        raise UsageError(
            f"{folder} holds something that was not pressed here (no {NAME}), so it is left alone; "
            "give a folder that is absent, empty or pressed before"
        )


def _check_name(folder: Path) -> None:
    """A folder of that name can be made: nothing on the way is a file, and no part is too long."""
    parts = folder.absolute().parts
    if "\0" in str(folder):
        raise UsageError("the name of the folder holds a zero byte; give another")
    longest = max(len(os.fsencode(part)) for part in parts)
    if len(os.fsencode(folder.name)) > _LONGEST_NAME - _ADDED or longest > _LONGEST_NAME:
        raise UsageError("the name of the folder is too long; give a shorter one")
    if len(os.fsencode(folder.absolute())) > _LONGEST_PATH:
        raise UsageError("the path of the folder is too long; give one nearer to the root")
    there = next((above for above in folder.absolute().parents if above.exists()), None)
    if there is not None and not there.is_dir():
        raise UsageError(f"{there} is a file, so no folder can be made in it; give another")


@contextmanager
def built_aside(folder: Path) -> Iterator[Path]:
    """Gives an empty sibling to build in; it takes the folder's place if the block ends well.

    On any exception the sibling is removed and the folder is left as it was.
    """
    target = folder.resolve()
    target.parent.mkdir(parents=True, exist_ok=True)
    _tidy(target)
    aside = _sibling(target, "pressing")
    aside.mkdir()
    try:
        yield aside
        check(target)
        with _signals_wait():
            _swap(aside, target)
    except BaseException:
        shutil.rmtree(aside, ignore_errors=True)
        raise


def _swap(aside: Path, target: Path) -> None:
    if not target.exists():
        aside.rename(target)
        return
    before = _sibling(target, "before")
    target.rename(before)
    try:
        aside.rename(target)
    except BaseException:
        before.rename(target)
        raise
    shutil.rmtree(before, ignore_errors=True)


def _sibling(target: Path, what: str) -> Path:
    return target.with_name(f".{target.name}.{what}-{secrets.token_hex(4)}")


def _siblings(target: Path, what: str) -> list[Path]:
    start = f".{target.name}.{what}-"
    return [path for path in target.parent.iterdir() if path.name.startswith(start)]


def _tidy(target: Path) -> None:
    """Puts back a site caught between two renames, and clears what killed presses left behind."""
    for before in _siblings(target, "before"):
        if target.exists():
            shutil.rmtree(before, ignore_errors=True)
        else:
            before.rename(target)
    for aside in _siblings(target, "pressing"):
        if time.time() - aside.stat().st_mtime > _LEFT_BEHIND_AFTER:
            shutil.rmtree(aside, ignore_errors=True)


@contextmanager
def _signals_wait() -> Iterator[None]:
    """Holds SIGINT and SIGTERM back until the block is done, then delivers the last one."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    came: list[int] = []

    def note(number: int, _frame: FrameType | None) -> None:
        came.append(number)

    kept = {number: signal.signal(number, note) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in kept.items():
            signal.signal(number, handler)
    if came:
        signal.raise_signal(came[-1])
