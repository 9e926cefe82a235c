"""press.json: what was pressed, by hash. A folder that holds one is ours to replace, any other is not.

It is published with the site, so it holds the hashes of paths and not the paths: those of lessons that are
not listed are for whoever was given them. A path at hand can be looked up by `key_of`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from importlib.metadata import version
from pathlib import Path

NAME = "press.json"
_PRESS = "lessonpress"


def receipt(hashes: Mapping[str, str]) -> bytes:
    """The receipt of a pressed site. hashes: path from the site's root → SHA-256 of its bytes in hex."""
    files = sorted((key_of(path), content) for path, content in hashes.items())
    written = {"press": _PRESS, "version": version("lessonpress"), "files": dict(files)}
    return (json.dumps(written, ensure_ascii=False, indent=1) + "\n").encode()


def key_of(path: str) -> str:
    """What a path, relative to the output folder, is called in the receipt."""
    return hash_of(path.encode())


def holds_receipt(folder: Path) -> bool:
    """Whether the folder holds the press.json of an earlier press, and not merely a file of that name."""
    try:
        read = json.loads((folder / NAME).read_bytes())
    except (OSError, ValueError):
        return False
    return isinstance(read, dict) and read.get("press") == _PRESS and isinstance(read.get("files"), dict)


def hash_of(content: bytes) -> str:
    """SHA-256 of the bytes, in hex."""
    return hashlib.sha256(content).hexdigest()
