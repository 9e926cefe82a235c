"""Keeps the cache below its limit: entries unused for longest go first, none that is in use."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import NamedTuple

from lessonpress.press.cache import UNFINISHED, Cache

ALWAYS = (
    "dockets",
    "states",
    "last",
    "saves",
    "withdrawals",
)  # shelves of what is known of the others; small


class _Kept(NamedTuple):
    """An entry. used: when it was last used, ns (see `CacheEntry.kept`)."""

    used: int
    size: int
    shelf: str
    name: str
    path: str


def clear(cache: Cache, limit: float, in_use: Collection[tuple[str, str]]) -> int:
    """Clears the cache to `limit` bytes where that can be done; the bytes that were cleared.

    in_use: shelves and names of the entries that the last press rests on, which stay.
    """
    every = list(_entries(cache.folder))
    over = sum(one.size for one in every) - limit
    cleared = 0
    for one in sorted(every):
        if cleared >= over:
            break
        if one.shelf in ALWAYS or (one.shelf, one.name) in in_use:
            continue
        try:
            Path(one.path).unlink()
        except OSError:
            continue  # another process may have it open, or have cleared it
        cleared += one.size
    return cleared


def _entries(folder: Path) -> Iterator[_Kept]:
    for shelf in _folders(folder):
        if shelf.name == UNFINISHED:
            continue
        for part in _folders(shelf):
            with os.scandir(part) as entries:
                for entry in entries:
                    if entry.is_file(follow_symlinks=False):
                        state = entry.stat(follow_symlinks=False)
                        name = part.name + entry.name
                        yield _Kept(state.st_mtime_ns, state.st_size, shelf.name, name, entry.path)


def _folders(folder: Path | os.DirEntry[str]) -> Iterator[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        yield from (entry for entry in entries if entry.is_dir(follow_symlinks=False))
