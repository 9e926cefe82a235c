"""press.json: what was pressed, by hash. A folder that holds one is ours to replace, any other is not.

It is published with the site, so it holds the hashes of paths and not the paths: those of lessons that are
not listed are for those who were given them. A path at hand can be looked up by `key_of`.
"""

from __future__ import annotations

import hashlib
import json
from bisect import bisect_left
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from lessonpress import __version__

NAME = "press.json"
_PRESS = "lessonpress"
_BETWEEN, _TAIL = b",\n", b"}}\n"  # lines, and what follows the last
_LINE = 134  # bytes: two hashes in hex and what encloses them


@dataclass(frozen=True)
class Receipt:
    """files: `key_of` each path → SHA-256 of the file's bytes in hex."""

    files: Mapping[str, str]

    def names(self, path: str) -> bool:
        """Whether a file of this path was pressed."""
        return key_of(path) in self.files

    def holds(self, path: str, hashed: str) -> bool:
        """Whether a file of this path and hash was pressed."""
        return self.files.get(key_of(path)) == hashed

    def hash_at(self, path: str) -> str:
        """The hash of a file that was pressed."""
        return self.files[key_of(path)]


def receipt(hashes: Mapping[str, str]) -> bytes:
    """The receipt of a pressed site. hashes: path from the site's root → SHA-256 of its bytes in hex."""
    return _written({key_of(path): content for path, content in hashes.items()})


def changed(before: bytes, gone: Iterable[str], hashes: Mapping[str, str]) -> bytes:
    """A receipt without some paths, and with these hashes of those that are new or another.

    It is written in the order of its lines, so only those of these paths are looked for: to read and write an
    archive's in whole takes a tenth of a second. Raises ValueError where it was not written by `receipt`.
    """
    empty = _written({})
    head, tail = empty[: -len(_TAIL)], empty[-len(_TAIL) :]
    lines = before[len(head) : -len(tail)].split(_BETWEEN)
    if not before.startswith(head) or not before.endswith(tail) or {len(line) for line in lines} != {_LINE}:
        raise ValueError("this is no receipt of this version")
    for path in gone:
        at, there = _found(lines, key_of(path))
        if there:
            del lines[at]
    for path, content in hashes.items():
        key = key_of(path)
        at, there = _found(lines, key)
        lines[at : at + there] = [json.dumps({key: content})[1:-1].encode()]
    return head + _BETWEEN.join(lines) + tail


def _found(lines: list[bytes], key: str) -> tuple[int, bool]:
    """Where the line of a key is, or would be, and whether it is there."""
    start = f'"{key}"'.encode()
    at = bisect_left(lines, start)
    return at, at < len(lines) and lines[at].startswith(start)


def _written(hashes: Mapping[str, str]) -> bytes:
    """hashes: by key."""
    files = sorted(hashes.items())
    written = {"press": _PRESS, "version": __version__, "files": dict(files)}
    # A file a line; json's own `indent` takes ten times as long.
    return (json.dumps(written, ensure_ascii=False, separators=(_BETWEEN.decode(), ": ")) + "\n").encode()


@cache
def key_of(path: str) -> str:
    """What a path, relative to the output folder, is called in the receipt."""
    return hash_of(path.encode())


def receipt_in(folder: Path) -> Receipt | None:
    """That of the press that made the folder; None where none did, whatever file of that name there is."""
    path = folder / NAME
    if not path.is_file():  # a pipe of that name would be waited for
        return None
    try:
        read = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError):
        return None
    if not isinstance(read, dict) or read.get("press") != _PRESS or not isinstance(read.get("files"), dict):
        return None
    return Receipt(read["files"])


def hash_of(*content: bytes) -> str:
    """SHA-256 in hex of the bytes, part after part."""
    hashed = hashlib.sha256()
    for part in content:
        hashed.update(part)
    return hashed.hexdigest()
