"""Which withdrawals can still be taken back: those since the last press that ended well."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Collection

from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.clearing import clear

_SHELF = "withdrawals"


def still_open(cache: Cache, name: str) -> CacheEntry:
    """The entry that is there while what was withdrawn under a name can be taken back."""
    return cache.entry(_SHELF, name)


def close_withdrawals(cache: Cache, in_use: Callable[[], Collection[tuple[str, str]]]) -> None:
    """Called by a press that has ended well: from now on nothing is taken back, and nothing is left of it.

    What else was at work on the site meanwhile may have filled the cache again. in_use: gives shelves
    and names of the entries that the press rests on, which stay.
    """
    shelf = cache.folder / _SHELF
    if shelf.is_dir():
        clear(cache, 0, in_use)
        shutil.rmtree(shelf)
