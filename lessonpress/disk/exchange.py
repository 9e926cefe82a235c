"""Exchanges two folders in one step, so that there is no moment without either.

The system calls are renameat2 of Linux and renamex_np of macOS; both are by their manuals atomic. Where the
system or the disk has neither, two renamings do it.
"""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path

_HERE = -100  # AT_FDCWD of fcntl.h: paths are taken as they are
_EXCHANGE = 2  # RENAME_EXCHANGE of linux/fs.h, and RENAME_SWAP of sys/stdio.h


def exchange_folders(one: Path, other: Path) -> bool:
    """Lets two entries of one folder trade places; False where this disk cannot, and nothing was done."""
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            failed = library.renamex_np(os.fsencode(one), os.fsencode(other), ctypes.c_uint(_EXCHANGE))
        else:
            first, second = os.fsencode(one), os.fsencode(other)
            failed = library.renameat2(_HERE, first, _HERE, second, ctypes.c_uint(_EXCHANGE))
    except (AttributeError, OSError, TypeError):  # no such call, or no C library that can be opened so
        return False
    return bool(failed == 0)
