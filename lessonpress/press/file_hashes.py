"""The hashes of a site's files, reused while the system shows that a file has not changed.

Content decides what is made from a file; size and time only save the hashing. They are trusted only where a
change could not have escaped them:

* The state that is compared holds the inode and the time of its last change (ctime) as well. Both are the
  system's own and cannot be set back, so that a file written over at its old size with its old time, as
  copying programs do, shows.
* A file that was changed just before it was hashed could be changed again in the same tick of the disk's
  clock, and look untouched. Git calls such files racy. Its hash is kept only for files at rest: last changed
  at least `_TICK` before the hashing began. A time in the future is never at rest.
* Windows gives no time of change; there every file is hashed every time.

What this cannot see: a disk without times of change of its own (FAT, exFAT) on which size and time were put
back on purpose.

One table holds all files of a site: a file for each would take longer to open than the texts.
"""

from __future__ import annotations

import os
import sys
import time
from dataclasses import dataclass, field
from hashlib import file_digest
from pathlib import Path
from typing import NamedTuple

from lessonpress.press.cache import Cache
from lessonpress.press.steps.parcel import packed, unpacked

_FORM = 2  # of what is kept here
_TICK = 2_000_000_000  # ns; the coarsest in use is FAT's, 2 s
_TELLS_CHANGES = sys.platform != "win32"


class FileState(NamedTuple):
    """What the system says of a file without reading it; times in ns."""

    size: int
    mtime: int
    ctime: int
    inode: int
    device: int

    @classmethod
    def of(cls, status: os.stat_result) -> FileState:
        return cls(status.st_size, status.st_mtime_ns, status.st_ctime_ns, status.st_ino, status.st_dev)

    def at_rest(self, when: int) -> bool:
        """Whether the last change was so long before `when`, ns, that one after it would show."""
        return max(self.mtime, self.ctime) + _TICK <= when


Known = dict[str, tuple[FileState, str]]  # path from the site's folder → state, SHA-256 in hex


@dataclass
class FileHashes:
    """known: of earlier presses. changed: whether a file was hashed anew, so that the table is to be kept."""

    known: Known = field(default_factory=dict)
    changed: bool = False

    @classmethod
    def kept(cls, cache: Cache) -> FileHashes:
        """Those of earlier presses; none where there are none that can be believed."""
        content = cache.entry("states", _FORM).kept()
        try:
            return cls() if content is None else cls(dict(unpacked(content)))
        except (ValueError, TypeError):
            return cls()

    def keep(self, cache: Cache) -> None:
        if self.changed:
            cache.entry("states", _FORM).keep(packed(self.known))
            self.changed = False

    def hash_of(self, name: str, path: Path, status: os.stat_result) -> str:
        """SHA-256 of the file at `path` in hex. status: its state as the system gives it now.

        Raises OSError where it cannot be read.
        """
        state, known = FileState.of(status), self.known.get(name)
        if known is not None and known[0] == state and _TELLS_CHANGES:
            return known[1]
        began = time.time_ns()
        with path.open("rb") as file:
            hashed = file_digest(file, "sha256").hexdigest()
            after = FileState.of(os.fstat(file.fileno()))
        self.changed = True
        if after == state and state.at_rest(began):
            self.known[name] = (state, hashed)
        else:
            self.known.pop(name, None)
        return hashed
