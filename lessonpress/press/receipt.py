"""press.json: what was pressed, by hash. A folder that holds one is ours to replace, any other is not."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

NAME = "press.json"
_PRESS = "lessonpress"


@dataclass(frozen=True)
class Receipt:
    """files: path from the site's root → SHA-256 of its bytes in hex. unnamed: seals of the other files."""

    files: Mapping[str, str]
    unnamed: Collection[str] = ()

    def holds(self, path: str, hashed: str) -> bool:
        """Whether a file of this path and hash was pressed."""
        return self.files.get(path) == hashed or _seal(path, hashed) in self.unnamed


def receipt(hashes: Mapping[str, str], unnamed: Collection[str] = ()) -> bytes:
    """The receipt of a pressed site. hashes: path from the site's root → SHA-256 of its bytes in hex.

    unnamed: paths among them that are not to be read in the receipt, which is published. Each is there by a
    seal only, which confirms a file to those who have it and tells others nothing.
    """
    written = {
        "press": _PRESS,
        "version": version("lessonpress"),
        "files": {path: hashes[path] for path in sorted(hashes) if path not in unnamed},
    }
    if unnamed:
        written["unnamed"] = sorted(_seal(path, hashes[path]) for path in unnamed)
    return (json.dumps(written, ensure_ascii=False, indent=1) + "\n").encode()


def receipt_in(folder: Path) -> Receipt | None:
    """That of the press that made the folder; None where none did, whatever file of that name there is."""
    place = folder / NAME
    if not place.is_file():  # a pipe of that name would be waited for
        return None
    try:
        read = json.loads(place.read_bytes())
    except (OSError, ValueError, RecursionError):
        return None
    if not isinstance(read, dict) or read.get("press") != _PRESS or not isinstance(read.get("files"), dict):
        return None
    unnamed = read.get("unnamed", [])
    return Receipt(read["files"], frozenset(filter(_is_text, unnamed if isinstance(unnamed, list) else [])))


def hash_of(content: bytes) -> str:
    """SHA-256 of the bytes, in hex."""
    return hashlib.sha256(content).hexdigest()


def _seal(path: str, hashed: str) -> str:
    return hash_of(f"{path}\n{hashed}".encode())


def _is_text(value: object) -> bool:
    return isinstance(value, str)
