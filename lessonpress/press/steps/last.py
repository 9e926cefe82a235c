"""The record of the last press: enough to see that there is nothing to do.

It holds every input of every product, and the state of every file of the pressed folder. While all of them
are as they were, a press would read, make and write the same again; what it said is said again.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.notes import Notes
from lessonpress.press.steps.inputs import Inputs
from lessonpress.press.steps.parcel import packed, unpacked
from lessonpress.records import Problem

FORM = 3
_OF_THE_SYSTEM = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})
FileStanding = tuple[int, int, int]  # bytes, time ns, inode
Standing = dict[str, FileStanding]  # by path


class Counts(NamedTuple):
    """What the summary of a press says of a site. size: bytes."""

    pages: int
    figures: int
    measures: int
    refused: int
    size: int


class Last(NamedTuple):
    """inputs: kind, what of, value. standing: the pressed folder's files. hashes: by path their SHA-256,
    but for the receipt's. notes: what was said.
    """

    inputs: tuple[tuple[str, str, str], ...]
    standing: Standing
    hashes: dict[str, str]
    problems: tuple[Problem, ...]
    counts: Counts
    notes: Notes

    def still(self, inputs: Inputs) -> bool:
        """Whether a press would read what the last one did."""
        return all(inputs.value(kind, of) == value for kind, of, value in self.inputs)


def last_of(cache: Cache, out: Path, asked: str) -> Last | None:
    """Of the last press into `out`; None where there was none that can be believed."""
    content = _entry(cache, out, asked).kept()
    try:
        return None if content is None else Last(*unpacked(content))
    except (ValueError, TypeError):
        return None


def keep_last(last: Last, cache: Cache, out: Path, asked: str) -> None:
    _entry(cache, out, asked).keep(packed(tuple(last)))


def _entry(cache: Cache, out: Path, asked: str) -> CacheEntry:
    return cache.entry("last", (FORM, os.path.relpath(out.resolve(), cache.folder.resolve()), asked))


def standing(folder: Path) -> Standing:
    """The state of each file of a folder, by its path from there; {} where there is no such folder."""
    files: Standing = {}
    try:
        _walk(folder, "", files)
    except OSError:
        return {}
    return files


def inodes(folder: Path) -> dict[str, int]:
    """Of each file of a folder, by its path from there, without asking for its state."""
    files: dict[str, int] = {}
    _walk_inodes(folder, "", files)
    return files


def without_the_systems(files: Standing) -> Standing:
    """Without what systems put into folders that are looked at."""
    return {path: state for path, state in files.items() if path.rpartition("/")[2] not in _OF_THE_SYSTEM}


def _walk(folder: Path | str, at: str, files: Standing) -> None:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                _walk(entry.path, f"{at}{entry.name}/", files)
            else:
                files[at + entry.name] = state_of(entry.stat(follow_symlinks=False))


def _walk_inodes(folder: Path | str, at: str, files: dict[str, int]) -> None:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                _walk_inodes(entry.path, f"{at}{entry.name}/", files)
            else:
                files[at + entry.name] = entry.inode()


def state_of(status: os.stat_result) -> FileStanding:
    return status.st_size, status.st_mtime_ns, status.st_ino
