"""Atomic writes: a file is replaced as a whole or not at all, and is on the disk when that returns."""

from __future__ import annotations

import contextlib
import ctypes
import glob
import os
import secrets
from collections.abc import Iterable
from pathlib import Path

from lessonpress.disk.lock import lock

_LONGEST = 40  # characters of a file's name that are kept in that of the file aside: names have an end
_TIMES = 3  # a file that is tidied away between its closing and its renaming is written again, so often


def write_atomically(
    path: Path, *content: bytes, by_way_of: Path | None = None, lasting: bool = True
) -> None:
    """Puts `content`, part after part, where the file is: written aside, brought to the disk, then renamed.

    Whatever stops this, kill -9 and a power cut among it, the file is the old one or the new one. What is
    left aside is hidden (`.NAME.….saving`) and cleared by `remove_unfinished`. by_way_of: the folder to write
    aside in, on the same disk; the file's own folder unless given. lasting: waits for the disk; without, a
    power cut may leave a file that is cut short. Raises OSError where the disk fails.
    """
    folder = by_way_of or path.parent
    for time in range(_TIMES):
        aside = _aside(folder, path.name)
        try:
            _write(aside, content, like=path, lasting=lasting)
            aside.replace(path)
            break
        except FileNotFoundError:
            if time == _TIMES - 1 or not folder.is_dir() or not path.parent.is_dir():
                raise
        except BaseException:
            aside.unlink(missing_ok=True)
            raise
    if lasting:
        folder_to_disk(path.parent)


def write_new(path: Path, content: bytes) -> None:
    """Puts `content` in a new file, whole or not at all. Raises FileExistsError where one is there."""
    aside = _aside(path.parent, path.name)
    try:
        _write(aside, (content,), like=path, lasting=True)
        try:
            os.link(aside, path)
        except FileExistsError:
            raise
        except OSError:  # a disk without hard links
            with path.open("xb") as file:
                file.write(content)
    finally:
        aside.unlink(missing_ok=True)
    folder_to_disk(path.parent)


def _aside(folder: Path, name: str) -> Path:
    return folder / f".{name[:_LONGEST]}.{secrets.token_hex(4)}.saving"


def _write(aside: Path, content: Iterable[bytes], *, like: Path, lasting: bool) -> None:
    """like: whose permissions the file gets, where that is there."""
    with aside.open("wb") as file:
        with contextlib.suppress(OSError):  # a disk without locks is no reason to lose a save
            lock(file)  # tells `remove_unfinished` that the writer lives
        if hasattr(os, "fchmod") and like.exists():
            os.fchmod(file.fileno(), like.stat().st_mode & 0o7777)
        file.writelines(content)
        file.flush()
        if lasting:
            os.fsync(file.fileno())


def remove_unfinished(folder: Path, of: str | None = None) -> None:
    """Clears what writers that were killed left aside there, and nothing of one that lives.

    of: the name of the one file whose leftovers go, in a folder that others write in too; of every file
    unless given.
    """
    name = "" if of is None else f"{glob.escape(of[:_LONGEST])}."
    for left in folder.glob(f".{name}*.saving"):
        with contextlib.suppress(OSError):
            with left.open("rb") as file:
                abandoned = lock(file)
            if abandoned:
                left.unlink(missing_ok=True)


def tree_to_disk(folder: Path) -> None:
    """A folder's files and folders, brought to the disk. Raises OSError where that fails.

    Linux brings all that waits for the folder's disk in one go: seven hundred files one by one take seconds.
    """
    if _disk_of(folder):
        return
    for at, _, names in os.walk(folder, topdown=False):
        for name in names:
            with (Path(at) / name).open("rb") as file:
                os.fsync(file.fileno())
        folder_to_disk(Path(at))


def _disk_of(folder: Path) -> bool:
    """Brings all to the disk that the folder is on; False where the system cannot, and nothing was done."""
    try:
        syncfs = ctypes.CDLL(None, use_errno=True).syncfs
    except (AttributeError, OSError, TypeError):
        return False
    handle = os.open(folder, os.O_RDONLY)
    try:
        if syncfs(handle):
            number = ctypes.get_errno()
            raise OSError(number, os.strerror(number), str(folder))
    finally:
        os.close(handle)
    return True


def folder_to_disk(folder: Path) -> None:
    """Renamings within the folder, brought to the disk where the system lets folders be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
