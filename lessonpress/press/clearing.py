"""Keeps the cache below its limit: entries unused for longest go first, none that is in use.

How large it is is known without looking at each entry: entries come and go whole, so a folder of them that
has not changed since is as large as it was.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Collection, Iterator
from pathlib import Path
from typing import NamedTuple

from lessonpress.press.cache import UNFINISHED, Cache
from lessonpress.press.steps.parcel import packed, unpacked

ALWAYS = (
    "dockets",
    "states",
    "last",
    "saves",
    "withdrawals",
    "sizes",
)  # shelves of what is known of the others; small
_FORM = 1  # of what is known of folders
_TICK = 2_000_000_000  # ns in which a folder could change twice at what looks like one time
_Sizes = dict[str, tuple[int, int]]  # path of a folder → when it was last changed, ns; bytes in it


class _Kept(NamedTuple):
    """An entry. used: when it was last used, ns (see `CacheEntry.kept`)."""

    used: int
    size: int
    shelf: str
    name: str
    path: str


def clear(cache: Cache, limit: float, in_use: Callable[[], Collection[tuple[str, str]]]) -> int:
    """Clears the cache to `limit` bytes where that can be done; the bytes that were cleared.

    in_use: gives shelves and names of the entries that the last press rests on, which stay; it is asked only
    where something is to be cleared.
    """
    over = _size(cache) - limit
    if over <= 0:
        return 0
    cleared, used = 0, in_use()
    for one in sorted(_entries(cache.folder)):
        if cleared >= over:
            break
        if one.shelf in ALWAYS or (one.shelf, one.name) in used:
            continue
        try:
            Path(one.path).unlink()
        except OSError:
            continue  # another process may have it open, or have cleared it
        cleared += one.size
    return cleared


def _size(cache: Cache) -> int:
    """Bytes of all entries."""
    known, now, sizes, size = _known_sizes(cache), time.time_ns(), _Sizes(), 0
    for part in _parts(cache.folder):
        changed = part.stat(follow_symlinks=False).st_mtime_ns
        before = known.get(part.path)
        held = before[1] if before is not None and before[0] == changed else _size_of(part.path)
        size += held
        if changed + _TICK < now:
            sizes[part.path] = (changed, held)
    if sizes != known:
        cache.entry("sizes", _FORM).keep(packed(sizes))
    return size


def _known_sizes(cache: Cache) -> _Sizes:
    content = cache.entry("sizes", _FORM).kept()
    try:
        return {} if content is None else dict(unpacked(content))
    except (ValueError, TypeError):
        return {}


def _size_of(part: str) -> int:
    with os.scandir(part) as entries:
        return sum(
            one.stat(follow_symlinks=False).st_size for one in entries if one.is_file(follow_symlinks=False)
        )


def _entries(folder: Path) -> Iterator[_Kept]:
    for part in _parts(folder):
        shelf = Path(part.path).parent.name
        with os.scandir(part) as entries:
            for entry in entries:
                if entry.is_file(follow_symlinks=False):
                    state = entry.stat(follow_symlinks=False)
                    name = part.name + entry.name
                    yield _Kept(state.st_mtime_ns, state.st_size, shelf, name, entry.path)


def _parts(folder: Path) -> Iterator[os.DirEntry[str]]:
    """The folders of entries: of each shelf those with names that begin alike."""
    for shelf in _folders(folder):
        if shelf.name != UNFINISHED:
            yield from _folders(shelf)


def _folders(folder: Path | os.DirEntry[str]) -> Iterator[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        yield from (entry for entry in entries if entry.is_dir(follow_symlinks=False))
