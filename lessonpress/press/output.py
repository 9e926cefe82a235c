"""Checks of the folder that a site is pressed into, before any work and again before the swap."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from lessonpress.disk import LockedError, hold_lock
from lessonpress.press.leftovers import histories, leftovers
from lessonpress.press.receipt import NAME, receipt_in
from lessonpress.records import UsageError

SOURCES = ("lessons", "clips", "pages", "themes", "root", "withdrawn")  # folders of the author's own work
WORK = ("build/cache", "build/proof", "build/uploads")  # folders of the program's own
_MOST_NAMED = 8
_LONGEST_PATH = 3500  # bytes; Linux takes 4096 (PATH_MAX), and the paths of the site follow
_ASKED_FOR = frozenset(  # what is wrong with the folder that was asked for, and not with the machine
    {
        errno.ENOENT,
        errno.ENOTDIR,
        errno.EEXIST,
        errno.EACCES,
        errno.EPERM,
        errno.EROFS,
        errno.ENAMETOOLONG,
        errno.ELOOP,
        errno.EINVAL,
    }
)


def check_output_folder(folder: Path, root: Path) -> None:
    """Raises UsageError where the site of `root` cannot be pressed to this folder, whatever is there."""
    try:
        target, home = folder.resolve(), root.resolve()
        there = target.exists()
    except (OSError, RuntimeError, ValueError) as fault:
        wrong = f"{_short(folder)} cannot be a folder: {_why(fault)}"
        raise UsageError(f"{wrong}; give another one") from fault
    if len(os.fsencode(target)) > _LONGEST_PATH:
        raise UsageError(f"the path {_short(folder)} is too long; give a folder nearer to the root")
    if home.is_relative_to(target):
        raise UsageError(
            f"{folder} is the site itself or holds it; give a folder of its own, like build/site"
        )
    for name in (*SOURCES, *WORK):
        if target.is_relative_to(home / name) or (home / name).is_relative_to(target):
            raise UsageError(
                f"{folder} lies in the way of the site's own {name}; give another folder, like build/site"
            )
    if there and os.path.ismount(target):
        raise UsageError(
            f"{folder} is a disk of its own, which nothing can take the place of; give a folder in it"
        )


def check_content(folder: Path, *, discard: bool = False) -> None:
    """Raises UsageError unless the folder is absent, empty, or holds what an earlier press put there alone.

    discard: whether what else is in a pressed folder may be lost. Histories of version control never are.
    """
    if folder.is_symlink() and not folder.exists():
        raise UsageError(f"{folder} is a link to nothing; give a folder")
    if not folder.exists():
        return
    if not folder.is_dir():
        raise UsageError(f"{folder} is a file; give a folder that is absent, empty or pressed before")
    receipt = receipt_in(folder)
    if receipt is None and any(folder.iterdir()):
        raise UsageError(
            f"{folder} holds something that was not pressed here (no {NAME}), so it is left alone; "
            "give a folder that is absent, empty or pressed before"
        )
    if receipt is not None:
        _check_leftovers(folder, leftovers(folder, receipt), discard=discard)


def _check_leftovers(folder: Path, left: list[str], *, discard: bool) -> None:
    kept = histories(left)
    if kept:
        raise UsageError(
            f"{folder} holds a history of version control, {_listed(kept)}, which a press never takes away; "
            "press into another folder and copy the site from there"
        )
    if left and not discard:
        raise UsageError(
            f"{folder} holds what no press put there, or what was changed since: {_listed(left)}; "
            "a press would take it away, so move it elsewhere, or say `--discard` to lose it"
        )


@contextmanager
def only_press(folder: Path) -> Iterator[None]:
    """Holds the folder for this press; the hold ends with its process, however that ends.

    Folders above it are made, and those that are empty afterwards go again. Raises UsageError where another
    press has the hold, or where nothing can be written beside the folder.
    """
    target = folder.resolve()
    with ExitStack() as stack:
        stack.callback(_take_away_empty, [above for above in target.parents if not above.exists()])
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            # As long as the names beside it will be, so that one that is too long shows now.
            lock_file = target.with_name(f".{target.name}.pressing-now.lock")
            stack.enter_context(hold_lock(lock_file, f"process {os.getpid()}"))
        except LockedError as other:
            holder = other.said or "just begun"
            raise UsageError(
                f"another press ({holder}) is writing {folder}; ask again when it has ended"
            ) from None
        except OSError as fault:
            if fault.errno not in _ASKED_FOR:
                raise
            raise UsageError(
                f"{_short(folder)} cannot be written: {_why(fault)}; give another folder"
            ) from fault
        yield


def _take_away_empty(folders: Iterable[Path]) -> None:
    for folder in folders:
        with suppress(OSError):
            folder.rmdir()


def _listed(paths: list[str]) -> str:
    more = len(paths) - _MOST_NAMED
    return ", ".join(paths[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _short(folder: Path) -> str:
    """As asked for; of a name that is too long its beginning."""
    written = str(folder)
    return written if len(written) <= 200 else f"{written[:60]}…"


def _why(fault: Exception) -> str:
    return (fault.strerror if isinstance(fault, OSError) else None) or str(fault)
