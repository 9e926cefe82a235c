"""The hashes of a site's files, with the state in which each was when it was hashed.

A file whose state is what it was is taken for what it was (`videos.py` says when that is safe), all others
are read again. One table for all files of a site: a file for each would take longer to open than the texts.
"""

from __future__ import annotations

import os
import sys
import time
from dataclasses import dataclass, field
from hashlib import file_digest
from pathlib import Path

from lessonpress.press.cache import Cache
from lessonpress.press.steps.parcel import packed, unpacked
from lessonpress.press.videos import State

Known = dict[str, tuple[tuple[int, int, int, int, int], str]]  # name → state, SHA-256 in hex
_FORM = 1  # of what is kept here
_TELLS_CHANGES = sys.platform != "win32"


@dataclass
class States:
    """known: of earlier presses. changed: whether a file was hashed anew, so that the table is to be kept."""

    known: Known = field(default_factory=dict)
    changed: bool = False

    @classmethod
    def kept(cls, cache: Cache) -> States:
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

    def hash_of(self, name: str, place: Path, found: os.stat_result) -> str:
        """SHA-256 of the file at `place` in hex. found: its state as the system tells it now.

        Raises OSError where it cannot be read.
        """
        state = State.of(found)
        told = (state.size, state.mtime, state.ctime, state.inode, state.device)
        known = self.known.get(name)
        if known is not None and known[0] == told and _TELLS_CHANGES:
            return known[1]
        began = time.time_ns()
        with place.open("rb") as file:
            hashed = file_digest(file, "sha256").hexdigest()
            after = State.of(os.fstat(file.fileno()))
        self.changed = True
        if after == state and state.at_rest(began):
            self.known[name] = (told, hashed)
        else:
            self.known.pop(name, None)
        return hashed
