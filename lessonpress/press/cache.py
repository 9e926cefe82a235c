"""The cache of a site, SITE/build/cache: what was read and made before, by what it was made from.

Safe to delete. An entry is believed only if it proves itself whenever it is used: its first line holds the
length of the content and a seal, the SHA-256 of the entry's name and the content. One that is cut, altered,
copied from another's place, of an older form, a link, a folder or unreadable is as good as none, and what
is made anew takes its place. Several processes may use one cache: entries are written whole, and the same
key has the same content.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import stat
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from lessonpress import __version__
from lessonpress.disk import remove_unfinished, write_atomically

_TAG = "Signature: 8a477f597d28d172789f06886806bc55\n"  # bford.info/cachedir: backups pass such folders over
_FORM = b"lessonpress entry"
_USED_AGAIN = 3600  # s after which a further use is noted
UNFINISHED = "unfinished"  # the folder that entries are written in

Key = str | int | float | bool | None | Sequence["Key"]


@dataclass(frozen=True)
class Cache:
    """folder: made when the first entry is kept."""

    folder: Path

    def entry(self, shelf: str, key: Key) -> CacheEntry:
        """What is made from `key`, kept yet or not. The program's version is part of every key."""
        written = json.dumps([__version__, key], ensure_ascii=True)
        return CacheEntry(self.folder, shelf, hashlib.sha256(written.encode()).hexdigest())

    def tidy(self) -> None:
        """Clears what killed processes left half written, and nothing of those that live."""
        remove_unfinished(self.folder / UNFINISHED)


@dataclass(frozen=True)
class CacheEntry:
    """A file of the cache. name: the hash of its key. Can be passed to another process."""

    cache: Path
    shelf: str
    name: str

    @property
    def path(self) -> Path:
        return self.cache / self.shelf / self.name[:2] / self.name[2:]

    def stands(self) -> bool:
        """Whether something is there, good or bad: for those who would only be early, and publish nothing."""
        return self.path.exists()

    def kept(self) -> bytes | None:
        """The content, proved; None where there is none that can be believed."""
        try:
            with _opened(self.path) as file:
                content = self._proved(file)
                if content is not None and time.time() - os.fstat(file.fileno()).st_mtime > _USED_AGAIN:
                    os.utime(self.path)  # what was used longest ago is cleared first
                return content
        except (OSError, ValueError):
            return None

    def content(self) -> bytes:
        """The content of an entry kept before. Raises OSError where it has gone or gone bad since."""
        kept = self.kept()
        if kept is None:
            what = f"{self.path} went bad or was taken away while it was in use"
            raise OSError(f"{what}; ask again, it is made anew then")
        return kept

    def keep(self, *content: bytes) -> None:
        """Writes the entry, part after part, whole or not at all. Raises OSError where the disk is full or
        read-only.

        It does not wait for the disk, which would take longer than making the entry: what a power cut spoils
        does not prove itself. A press brings all to the disk at its end.
        """
        unfinished = self.cache / UNFINISHED
        for folder in (unfinished, self.path.parent.parent, self.path.parent):
            _make_folder(folder)
        tag = self.cache / "CACHEDIR.TAG"
        if not tag.exists():
            tag.write_text(_TAG, encoding="ascii")
        if self.path.is_dir() and not self.path.is_symlink():
            shutil.rmtree(self.path)
        elif self.path.is_symlink():
            self.path.unlink()
        write_atomically(self.path, self._head(content), *content, by_way_of=unfinished, lasting=False)

    def _head(self, content: Sequence[bytes]) -> bytes:
        """content: its parts. They are never joined: what is known of an archive is large."""
        seal = hashlib.sha256(f"{self.shelf}/{self.name}\n".encode())
        for part in content:
            seal.update(part)
        return b"%s %d %s\n" % (_FORM, sum(map(len, content)), seal.hexdigest().encode())

    def _proved(self, file: IO[bytes]) -> bytes | None:
        """Raises ValueError where the first line is of another form."""
        head = file.readline(len(_FORM) + 100)
        form, length, _ = head.rsplit(b" ", 2)
        # The length is looked at before anything is read: a file put here may be larger than the memory.
        if form != _FORM or os.fstat(file.fileno()).st_size != len(head) + int(length):
            return None
        content = file.read(int(length))
        return content if self._head((content,)) == head else None


def _opened(path: Path) -> IO[bytes]:
    """A plain file, open. Raises OSError for anything else: opening a pipe would wait for its writer."""
    if not stat.S_ISREG(path.lstat().st_mode):
        raise OSError(f"{path} is not a plain file")
    return path.open("rb")


def _make_folder(folder: Path) -> None:
    """A folder of the cache itself: what else has that name, a link out of the cache too, gives way."""
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        with contextlib.suppress(FileNotFoundError):  # another press may see the same at the same time
            folder.unlink()
    folder.mkdir(parents=True, exist_ok=True)
