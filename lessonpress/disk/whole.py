"""A file written whole or not at all, and brought to the disk."""

from __future__ import annotations

import contextlib
import os
import secrets
from pathlib import Path

from lessonpress.disk.lock import lock

_TIMES = 3  # a file that is tidied away between its closing and its renaming is written again, so often


def write_whole(place: Path, content: bytes, *, by_way_of: Path | None = None) -> None:
    """Puts `content` in the file's place: written aside, brought to the disk, then renamed.

    Whatever stops this, kill -9 and a power cut among it, the file is the old one or the new one. What is
    left aside is hidden (`.NAME.….saving`) and cleared by `tidy`. by_way_of: the folder to write aside in, on
    the same disk; the file's own folder unless given. Raises OSError where the disk fails.
    """
    folder = by_way_of or place.parent
    for time in range(_TIMES):
        aside = folder / f".{place.name}.{secrets.token_hex(4)}.saving"
        try:
            _write(aside, content, like=place)
            aside.replace(place)
            break
        except FileNotFoundError:
            if time == _TIMES - 1 or not folder.is_dir() or not place.parent.is_dir():
                raise
        except BaseException:
            aside.unlink(missing_ok=True)
            raise
    folder_to_disk(place.parent)


def _write(aside: Path, content: bytes, *, like: Path) -> None:
    """like: whose permissions the file gets, where that is there."""
    with aside.open("wb") as file:
        with contextlib.suppress(OSError):  # a disk without locks is no reason to lose a save
            lock(file)  # tells `tidy` that the writer lives
        if hasattr(os, "fchmod") and like.exists():
            os.fchmod(file.fileno(), like.stat().st_mode & 0o7777)
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def tidy(folder: Path) -> None:
    """Clears what writers that were killed left aside there, and nothing of one that lives."""
    for left in folder.glob(".*.saving"):
        with contextlib.suppress(OSError):
            with left.open("rb") as file:
                abandoned = lock(file)
            if abandoned:
                left.unlink(missing_ok=True)


def folder_to_disk(folder: Path) -> None:
    """Renamings within the folder, brought to the disk where the system lets folders be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
