"""The cache stays below its limit: what was used longest ago goes first, what is in use stays."""

from __future__ import annotations

import os
import time
from pathlib import Path

from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.clearing import clear
from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from tests.conftest import Rewrite

DAY = 86400 * 10**9  # ns


def _kept(cache: Cache, name: str, days_ago: int) -> CacheEntry:
    entry = cache.entry("pictures", name)
    entry.keep(bytes(1000))
    then = time.time_ns() - days_ago * DAY
    os.utime(entry.path, ns=(then, then))
    return entry


def test_what_was_used_longest_ago_is_cleared_first(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    old, older, new = _kept(cache, "old", 2), _kept(cache, "older", 3), _kept(cache, "new", 1)
    size = old.path.stat().st_size
    assert clear(cache, 3 * size, set) == 0
    assert clear(cache, 2 * size, set) == size
    assert (older.stands(), old.stands(), new.stands()) == (False, True, True)


def test_an_entry_that_came_since_counts_in_a_folder_that_is_known(tmp_path: Path) -> None:
    """The folder is one that was at rest when the cache was last looked through."""
    cache = Cache(tmp_path / "cache")
    first = _kept(cache, "first", 2)
    folder, size = first.path.parent, first.path.stat().st_size
    then = time.time_ns() - DAY
    os.utime(folder, ns=(then, then))
    assert clear(cache, 1.5 * size, set) == 0
    second = CacheEntry(cache.folder, first.shelf, f"{first.name[:2]}{'0' * 62}")
    second.keep(bytes(1000))
    assert second.path.parent == folder and clear(cache, 1.5 * size, set) == size
    assert (first.stands(), second.stands()) == (False, True)


def test_what_is_used_is_young_again(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    used, other = _kept(cache, "used", 3), _kept(cache, "other", 2)
    assert used.kept() is not None
    clear(cache, used.path.stat().st_size, set)
    assert (used.stands(), other.stands()) == (True, False)


def test_what_is_in_use_stays_whatever_the_limit(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    used, other = _kept(cache, "used", 3), _kept(cache, "other", 2)
    clear(cache, 0, lambda: {(used.shelf, used.name)})
    assert (used.stands(), other.stands()) == (True, False)


def _press(root: Path) -> Pressed:
    return press(root, root / "build" / "site", Silent())


def test_a_press_says_what_it_cleared_and_the_next_has_nothing_to_do_all_the_same(
    own_site: Path, rewrite: Rewrite
) -> None:
    _press(own_site)
    rewrite(own_site / "site.yaml", "units: in", "units: in\ncache_limit: 10 kB")
    cleared = _press(own_site)
    assert cleared.summary is not None and "of the cache cleared" in str(cleared.summary)
    assert _press(own_site).redone == ()
    rewrite(own_site / "lessons" / "pelvis.md", "three lines", "three plumb lines")
    redone = {one.product for one in _press(own_site).redone}
    assert "the page of pelvis" in redone and "the page of kinds" not in redone


def test_a_limit_that_is_none_is_reported_at_its_place(own_site: Path, rewrite: Rewrite) -> None:
    rewrite(own_site / "site.yaml", "units: in", "units: in\ncache_limit: 5 GiB")
    (problem,) = _press(own_site).problems.errors
    assert (problem.location.path, problem.location.column) == ("site.yaml", 14)
    assert "5 GB" in problem.right
