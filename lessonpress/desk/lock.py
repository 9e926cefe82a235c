"""One desk a site: the second one is told the first one's address instead of fighting over the files."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from lessonpress.records.fault import UsageError

NAME = "desk.lock"


@contextmanager
def only_desk(root: Path, address: str) -> Iterator[None]:
    """Holds the site for this desk. address: what a second one is told; it holds no token.

    The hold is the system's, on an open file, so it ends with the process, however that ends.
    Raises UsageError where another desk holds the site.
    """
    place = root / "build" / NAME
    place.parent.mkdir(parents=True, exist_ok=True)
    with place.open("a+", encoding="utf-8") as file:
        if not _held(file):
            file.seek(0)
            elsewhere = file.read().strip() or "another address"
            raise UsageError(f"a desk is open on this site already, at {elsewhere}; use that one or close it")
        file.seek(0)
        file.truncate()
        file.write(address + "\n")
        file.flush()
        yield
        with contextlib.suppress(OSError):
            file.truncate(0)


if sys.platform == "win32":
    import msvcrt

    _FAR = 1 << 20  # a byte past the text, so that the address stays readable

    def _held(file: IO[str]) -> bool:
        os.lseek(file.fileno(), _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _held(file: IO[str]) -> bool:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True
