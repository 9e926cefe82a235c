"""press.json: what was pressed, by hash. A folder that holds one is ours to replace, any other is not.

It is published with the site, so it holds the hashes of paths and not the paths: those of lessons that are
not listed are for those who were given them. A path at hand can be looked up by `key_of`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from lessonpress import __version__

NAME = "press.json"
_PRESS = "lessonpress"


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


def changed(before: Receipt, gone: Iterable[str], hashes: Mapping[str, str]) -> bytes:
    """A receipt without some paths, and with these hashes of those that are new or another."""
    without = {key_of(path) for path in gone}
    files = {key: content for key, content in before.files.items() if key not in without}
    return _written(files | {key_of(path): content for path, content in hashes.items()})


def _written(hashes: Mapping[str, str]) -> bytes:
    """hashes: by key."""
    files = sorted(hashes.items())
    written = {"press": _PRESS, "version": __version__, "files": dict(files)}
    # A file a line; json's own `indent` takes ten times as long.
    return (json.dumps(written, ensure_ascii=False, separators=(",\n", ": ")) + "\n").encode()


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


def hash_of(content: bytes) -> str:
    """SHA-256 of the bytes, in hex."""
    return hashlib.sha256(content).hexdigest()
