"""The cache of a site, SITE/build/cache: what was read and made before, by what it was made from.

Safe to delete. An entry is written beside its place and renamed into it, so that a press that is stopped
leaves whole entries only, and the next one takes up where it stopped.
"""

from __future__ import annotations

import hashlib
import json
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

_TAG = "Signature: 8a477f597d28d172789f06886806bc55\n"  # bford.info/cachedir: backups pass such folders over

Key = str | int | float | bool | None | Sequence["Key"]


@dataclass(frozen=True)
class Cache:
    """folder: made when the first entry is kept."""

    folder: Path

    def place(self, shelf: str, key: Key, suffix: str) -> Path:
        """Where the entry made from `key` stands, or would. The program's version is part of every key."""
        written = json.dumps([version("lessonpress"), key], ensure_ascii=True)
        name = hashlib.sha256(written.encode()).hexdigest()
        return self.folder / shelf / name[:2] / (name[2:] + suffix)

    def keep(self, place: Path, content: bytes) -> None:
        """Writes an entry whole or not at all. Raises OSError where the disk is full or read-only."""
        place.parent.mkdir(parents=True, exist_ok=True)
        tag = self.folder / "CACHEDIR.TAG"
        if not tag.exists():
            tag.write_text(_TAG, encoding="ascii")
        beside = place.with_name(f"{place.name}.{secrets.token_hex(4)}")
        try:
            beside.write_bytes(content)
            beside.replace(place)
        except BaseException:
            beside.unlink(missing_ok=True)
            raise
