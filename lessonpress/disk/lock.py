"""A lock file that one process holds, and that the system releases when the process ends.

The lock is the system's, on an open file, so it ends with the process, however that ends. What the file says
is for people; that the file is there means nothing.
"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO


class LockedError(Exception):
    """Another process has the hold. said: what it wrote of itself; "" where it has not yet."""

    def __init__(self, said: str) -> None:
        super().__init__(said)
        self.said = said


@contextmanager
def hold_lock(path: Path, said: str) -> Iterator[None]:
    """Holds `path`, a lock file in a folder that is there. said: a line for those who come second.

    The file goes when the hold ends; a killed process leaves it behind, unlocked. Raises LockedError, and
    OSError where the file cannot be made.
    """
    with _locked(path) as file:
        file.truncate()
        file.write(said + "\n")
        file.flush()
        try:
            yield
        finally:
            if sys.platform != "win32":
                path.unlink(missing_ok=True)
    if sys.platform == "win32":  # which lets go of no name while the file is open
        with contextlib.suppress(OSError):
            path.unlink()


@contextmanager
def _locked(path: Path) -> Iterator[IO[str]]:
    """The file, open at its start and locked."""
    while True:
        with path.open("a+", encoding="utf-8") as file:
            taken = lock(file)
            file.seek(0)
            if not taken:
                raise LockedError(file.read().strip())
            # Between our opening and our locking the holder before may have ended and taken its file away:
            # then this is a lock on nothing that anyone else would find.
            if _still_at(path, file):
                yield file
                return


def _still_at(path: Path, file: IO[str]) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(file.fileno()))
    except FileNotFoundError:
        return False


if sys.platform == "win32":
    import msvcrt

    _FAR = 1 << 40  # a byte past everything, so that the content stays readable

    def lock(file: IO[str] | IO[bytes]) -> bool:
        """Locks an open file for this process without waiting; False where another process has it."""
        position = os.lseek(file.fileno(), 0, os.SEEK_CUR)
        os.lseek(file.fileno(), _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        finally:
            os.lseek(file.fileno(), position, os.SEEK_SET)
        return True

else:
    import fcntl

    def lock(file: IO[str] | IO[bytes]) -> bool:
        """Locks an open file for this process without waiting; False where another process has it."""
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
