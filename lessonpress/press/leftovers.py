"""Files in a pressed folder that the press did not write, named before they would be removed."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from lessonpress.press.receipt import NAME, Receipt, hash_of

# Histories kept by version control. What is in them may be nowhere else, so they are never taken away.
HISTORIES = frozenset(
    {".git", ".hg", ".svn", ".bzr", ".jj", ".pijul", "_darcs", "CVS", ".fslckout", "_FOSSIL_"}
)
_OF_THE_SYSTEM = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})  # put into folders that are looked at


def leftovers(folder: Path, receipt: Receipt) -> list[str]:
    """Paths from `folder`, in order, of what no press put there or what was changed since.

    A folder with nothing of ours in it is named by itself, with a / at its end; empty ones are not.
    """
    last = (folder / NAME).stat().st_mtime_ns
    paths, _ = _looked_through(folder, "", receipt, last)
    return sorted(paths)


def histories(paths: Iterable[str]) -> list[str]:
    """Those of the paths that are a history of version control."""
    return [path for path in paths if path.rstrip("/").rpartition("/")[2] in HISTORIES]


def _looked_through(folder: Path, at: str, receipt: Receipt, last: int) -> tuple[list[str], bool]:
    """What is not ours, and whether anything is. at: the folder's path, "" or with a / at its end."""
    paths: list[str] = []
    ours = at == ""
    for entry in _entries(folder):
        path = at + entry.name
        if entry.name in HISTORIES:
            paths.append(f"{path}/" if entry.is_dir(follow_symlinks=False) else path)
        elif entry.is_dir(follow_symlinks=False):
            within, some_ours = _looked_through(Path(entry.path), f"{path}/", receipt, last)
            paths += within
            ours = ours or some_ours
        elif path == NAME or entry.name in _OF_THE_SYSTEM:
            continue
        elif _as_pressed(entry, path, receipt, last):
            ours = True
        else:
            paths.append(path)
    if paths and not ours:
        return [at, *histories(path for path in paths if path != at)], False
    return paths, ours


def _entries(folder: Path) -> Iterator[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        yield from entries


def _as_pressed(entry: os.DirEntry[str], path: str, receipt: Receipt, last: int) -> bool:
    """Reads only what is named in no receipt or is newer than it: the receipt is written last of all."""
    if not entry.is_file(follow_symlinks=False):
        return False
    if receipt.names(path) and entry.stat().st_mtime_ns <= last:
        return True
    return receipt.holds(path, hash_of(Path(entry.path).read_bytes()))
