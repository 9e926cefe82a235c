"""Fills the folder that takes the last one's place: anew, or by changing what differs in a spare of it."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path

from lessonpress.press.receipt import NAME, Receipt, changed, receipt, receipt_in
from lessonpress.press.spare import Changes, Left, remove
from lessonpress.press.steps.dockets import Put
from lessonpress.press.steps.last import FileStanding, Standing, state_of
from lessonpress.press.steps.uses import Key
from lessonpress.press.steps.works import Works


class Puts:
    """The files of a press. hashes: SHA-256 in hex by path. Raises RuntimeError where two want one path."""

    def __init__(self, works: Works, puts: Iterable[tuple[Key, Put]]) -> None:
        self.hashes: dict[str, str] = {}
        self._works = works
        self._by_path: dict[str, tuple[Key, Put]] = {}
        for key, put in puts:
            hashed = self.hashes.setdefault(put.path, put.hashed)
            if hashed != put.hashed:  # of equal ones two lessons show a picture
                raise RuntimeError(f"two files want to be {put.path}")
            self._by_path[put.path] = key, put

    @property
    def all(self) -> list[Put]:
        return [put for _, put in self._by_path.values()]

    def content(self, path: str) -> bytes:
        return self._works.content(*self._by_path[path])


def fill(aside: Path, out: Path, puts: Puts) -> Standing:
    """Puts every file of the site and its receipt into an empty folder; the state of each.

    What is in `out` as it was pressed, and is the same still, is linked where the disk can do that: the
    files of a pressed folder are replaced and never written into.
    """
    last = receipt_in(out)
    folders: set[str] = set()
    stands: Standing = {}
    for put in puts.all:
        _make_folder_of(put.path, aside, folders)
        stands[put.path] = _bring(aside, out, put, last, partial(puts.content, put.path))
    stands[NAME] = _write(aside / NAME, receipt(puts.hashes))
    return stands


def change(aside: Path, puts: Puts, left: Left) -> tuple[Standing, Changes]:
    """Changes what differs in a folder that is as the last press left it: states of files, and what."""
    differ = [path for path, hashed in puts.hashes.items() if left.hashes.get(path) != hashed]
    gone = tuple(left.hashes.keys() - puts.hashes.keys())
    remove(aside, gone)
    stands = dict(left.standing)
    for path in gone:
        del stands[path]
    for path in differ:
        _make_folder_of(path, aside, set())
        stands[path] = _write(aside / path, puts.content(path))
    try:
        said = changed((aside / NAME).read_bytes(), gone, {path: puts.hashes[path] for path in differ})
    except ValueError:
        said = receipt(puts.hashes)  # that of another version says the same in other words
    stands[NAME] = _write(aside / NAME, said)
    return stands, Changes(gone, (*differ, NAME))


def _write(path: Path, content: bytes) -> FileStanding:
    """A file of its own: what is there is a link to one that is published."""
    path.unlink(missing_ok=True)
    path.write_bytes(content)
    return state_of(path.lstat())


def _make_folder_of(path: str, aside: Path, folders: set[str]) -> None:
    """folders: those made before. Raises RuntimeError where the file would lie outside the site."""
    folder = path.rpartition("/")[0]
    if folder in folders:
        return
    relative = Path(path)
    if relative.anchor or ".." in relative.parts:
        raise RuntimeError(f"{path} would lie outside the site")
    (aside / folder).mkdir(parents=True, exist_ok=True)
    folders.add(folder)


def _bring(
    aside: Path, out: Path, put: Put, last: Receipt | None, content: Callable[[], bytes]
) -> FileStanding:
    """Puts a file in its place; its state. content: gives its bytes, not read where it can be linked."""
    target = aside / put.path
    linked = _linked(f"{out}/{put.path}", target, put, last)
    return _write(target, content()) if linked is None else state_of(linked)


def _linked(standing: str, target: Path, put: Put, last: Receipt | None) -> os.stat_result | None:
    """The state of the file of the last press where it was linked. It is as that left it: it was checked."""
    if last is None or not last.holds(put.path, put.hashed):
        return None
    try:
        state = os.lstat(standing)
        if not stat.S_ISREG(state.st_mode) or state.st_size != put.size:
            return None
        os.link(standing, target)
    except (OSError, NotImplementedError):
        return None
    return state
