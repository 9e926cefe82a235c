"""Puts the finished site into the output folder: built aside, brought to the disk, swapped in whole.

Aside means a sibling, `.NAME.pressing-…`, so that the renaming stays within one disk. Both folders trade
places in one step where the system can do that. Where it cannot, the site that is replaced is called
`.NAME.before-…` for the moment between two renamings; if the machine stops just there, the next press puts
it back.
"""

from __future__ import annotations

import re
import secrets
import shutil
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from lessonpress.disk import exchange_folders, folder_to_disk, tree_to_disk
from lessonpress.press.output import check_content
from lessonpress.press.spare import Spare


@contextmanager
def built_aside(folder: Path, spare: Spare | None = None, *, discard: bool = False) -> Iterator[Path]:
    """Gives a sibling to build in, empty or a spare; it takes the folder's place if the block ends well.

    To be called by the only press of the folder: whatever lies beside it was left by one that was killed, and
    goes. On any exception the sibling is removed and the folder is left as it was. discard: as for
    `check_content`, which is asked again at the end, since building takes a while.
    """
    target = folder.resolve()
    spare = spare or Spare(target, None)
    tidy_beside(target)
    aside = _sibling(target, "pressing")
    if not spare.taken(aside):
        aside.mkdir()
    try:
        yield aside
        if not spare.untouched():
            check_content(folder, discard=discard)
        tree_to_disk(aside)
        with _signals_wait():
            spare.keep(_swap(aside, target))
    except BaseException:
        shutil.rmtree(aside, ignore_errors=True)
        raise


def _swap(aside: Path, target: Path) -> Path:
    """Puts what was built in its place; where what it replaced now lies, if there was any."""
    old = aside
    if not target.exists():
        aside.rename(target)
    elif not exchange_folders(aside, target):
        old = _sibling(target, "before")
        target.rename(old)
        try:
            aside.rename(target)
        except BaseException:
            old.rename(target)
            raise
    folder_to_disk(target.parent)
    return old


def _sibling(target: Path, what: str) -> Path:
    return target.with_name(f".{target.name}.{what}-{secrets.token_hex(4)}")


def _siblings(target: Path, what: str) -> list[Path]:
    ours = re.compile(rf"\.{re.escape(target.name)}\.{what}-[0-9a-f]{{8}}")
    return [path for path in target.parent.iterdir() if ours.fullmatch(path.name)]


def tidy_beside(folder: Path) -> None:
    """Puts back a site caught between two renames, and clears what killed presses left behind.

    To be called by the only press of the folder.
    """
    target = folder.resolve()
    for before in _siblings(target, "before"):
        if target.exists():
            shutil.rmtree(before, ignore_errors=True)
        else:
            before.rename(target)
    for aside in _siblings(target, "pressing"):
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
