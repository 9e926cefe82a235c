"""Which content a site's videos have: their SHA-256, kept while the system vouches that they are untouched.

Content decides what is made from a video; size and time only save the hashing. They are trusted only where
a change could not have escaped them:

* The state that is compared holds the inode and the time of its last change (ctime) as well. Both are the
  system's own and cannot be set back, so that a video written over at its old size with its old time, as
  copying programs do, shows.
* A file that was changed just before it was hashed could be changed again in the same tick of the disk's
  clock, and look untouched. Git calls such files racy. Its hash is kept only for files at rest: last changed
  at least `_TICK` before the hashing began. A time in the future is never at rest.
* Windows tells no time of change; there every video is hashed every time.

What this cannot see: a disk without times of change of its own (FAT, exFAT) on which size and time were put
back on purpose.
"""

from __future__ import annotations

import json
import os
import sys
import time
from dataclasses import asdict, dataclass
from hashlib import file_digest
from pathlib import Path

from lessonpress.press.cache import Cache, Entry

_TICK = 2_000_000_000  # ns; the coarsest in use is FAT's, 2 s
_TELLS_CHANGES = sys.platform != "win32"


@dataclass(frozen=True)
class State:
    """What the system says of a file without reading it; times in ns."""

    size: int
    mtime: int
    ctime: int
    inode: int
    device: int

    @classmethod
    def of(cls, found: os.stat_result) -> State:
        return cls(found.st_size, found.st_mtime_ns, found.st_ctime_ns, found.st_ino, found.st_dev)

    def at_rest(self, when: int) -> bool:
        """Whether the last change was so long before `when`, ns, that one after it would show."""
        return max(self.mtime, self.ctime) + _TICK <= when


def fingerprint_of(video: Path, cache: Cache) -> str:
    """SHA-256 of the video in hex. Raises OSError where it cannot be read or the cache cannot be written."""
    entry = cache.entry("videos", str(video.resolve()))
    state = State.of(video.stat())
    known = _known(entry, state) if _TELLS_CHANGES else None
    if known is not None:
        return known
    began = time.time_ns()
    with video.open("rb") as file:
        before = State.of(os.fstat(file.fileno()))
        fingerprint = file_digest(file, "sha256").hexdigest()
        after = State.of(os.fstat(file.fileno()))
    if before == after and after.at_rest(began):
        entry.keep(json.dumps({"state": asdict(after), "fingerprint": fingerprint}).encode())
    return fingerprint


def _known(entry: Entry, state: State) -> str | None:
    kept = entry.kept()
    if kept is None:
        return None
    try:
        read = json.loads(kept)
        return str(read["fingerprint"]) if State(**read["state"]) == state else None
    except (ValueError, KeyError, TypeError):
        return None
