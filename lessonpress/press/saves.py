"""What files of a site were before they were saved: the last hundred saves, in its cache.

Each is an entry that proves itself, numbered in the order of saving and not by a clock, which may be set
back. Nothing leaves the machine; deleting the cache deletes them too.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from lessonpress.disk import write_atomically
from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.site_folder import SITE_FILE
from lessonpress.records import UsageError

SHELF = "saves"
MOST = 100
_DIGITS = 10


@dataclass(frozen=True)
class Save:
    """What a file was before a save. number: counts all saves. path: of the file, from the site's folder.

    at: when it was saved, as the machine's clock had it.
    """

    number: int
    path: str
    at: datetime
    content: bytes


def keep_save(file: Path, content: bytes | None) -> None:
    """Keeps what a file holds that is about to be saved. content: None for one that was not there.

    Where it cannot be kept the file is saved all the same: a save is worth more than its past.
    """
    root = _site_of(file)
    if content is None or root is None:
        return
    path = file.absolute().relative_to(root).as_posix()
    with contextlib.suppress(OSError):
        entries = list(_entries(root))
        newest = _opened(entries[-1]) if entries else None
        if newest is not None and (newest.path, newest.content) == (path, content):
            return
        number = int(entries[-1].name) + 1 if entries else 1
        head = {"path": path, "at": datetime.now(UTC).isoformat(timespec="seconds")}
        _entry(root, number).keep(json.dumps(head).encode() + b"\n" + content)
        for old in entries[: max(0, len(entries) + 1 - MOST)]:
            old.path.unlink(missing_ok=True)


def saves_of(root: Path) -> list[Save]:
    """Those that can be believed, the newest first."""
    saves = [_opened(entry) for entry in _entries(root.absolute())]
    return [save for save in reversed(saves) if save is not None]


def restore(root: Path, file: Path, number: int | None = None) -> Save:
    """Puts a file back to what it was before its last save, or before the save of a number.

    What it holds now is kept first, so that it can be undone. Raises UsageError where nothing of it is kept.
    """
    home, target = root.absolute(), _within(root, file)
    saves = saves_of(root)
    of_file = [save for save in saves if home / save.path == target]
    if not of_file:
        kept = ", ".join(dict.fromkeys(save.path for save in saves)) or "no file"
        raise UsageError(f"no save of {file} is kept; of these there are: {kept}")
    now = target.read_bytes() if target.is_file() else None
    wanted = [save for save in of_file if number in (None, save.number)]
    wanted = [save for save in wanted if number is not None or save.content != now]
    if not wanted:
        numbers = ", ".join(str(save.number) for save in of_file)
        raise UsageError(f"there is nothing else to bring back of {file}; its saves are {numbers}")
    keep_save(target, now)
    target.parent.mkdir(parents=True, exist_ok=True)
    write_atomically(target, wanted[0].content)
    return wanted[0]


def forget_saves(root: Path, gone: tuple[str, ...], words: tuple[str, ...]) -> None:
    """Takes away those of files under the paths `gone`, and those in which one of the words is written."""
    wanted = [word.casefold() for word in words]
    for entry in _entries(root.absolute()):
        save = _opened(entry)
        said = "" if save is None else save.content.decode("utf-8", errors="replace").casefold()
        if save is None or save.path.startswith(gone or ("\0",)) or any(word in said for word in wanted):
            entry.path.unlink(missing_ok=True)


def _within(root: Path, file: Path) -> Path:
    """The file as it is called in the site: as written from here, else from the site's folder."""
    home = root.absolute()
    for start in (Path.cwd(), home):
        path = Path(os.path.normpath(start / file))
        if path.is_relative_to(home) and path.parent.resolve().is_relative_to(home.resolve()):
            return path
    raise UsageError(f"{file} does not lie in the site {root}")


def _site_of(file: Path) -> Path | None:
    return next((above for above in file.absolute().parents if (above / SITE_FILE).is_file()), None)


def _entry(root: Path, number: int) -> CacheEntry:
    return CacheEntry(root / "build" / "cache", SHELF, f"{number:0{_DIGITS}}")


def _entries(root: Path) -> Iterator[CacheEntry]:
    """The entries there are, the oldest first."""
    cache = Cache(root / "build" / "cache")
    for path in sorted((cache.folder / SHELF).glob("*/*")):
        name = path.parent.name + path.name
        if name.isdecimal() and len(name) == _DIGITS:
            yield CacheEntry(cache.folder, SHELF, name)


def _opened(entry: CacheEntry) -> Save | None:
    content = entry.kept()
    if content is None:
        return None
    head, _, before = content.partition(b"\n")
    try:
        said = json.loads(head)
        return Save(int(entry.name), str(said["path"]), datetime.fromisoformat(said["at"]), before)
    except (ValueError, KeyError, TypeError):
        return None
