"""What a file of the site holds: its version, and a text put as the file had it."""

from __future__ import annotations

import codecs
import hashlib
from pathlib import Path

from lessonpress import manuscript as files


def version_of(content: bytes | None) -> str:
    """SHA-256 in hex; "" where there is no file."""
    return "" if content is None else hashlib.sha256(content).hexdigest()


def bytes_of(file: Path) -> bytes | None:
    """What a text holds, None where there is none. Raises OSError where it cannot be read, or is none."""
    try:
        return files.bytes_of(file)
    except FileNotFoundError:
        return None


def version_at(file: Path) -> str:
    """The version of a text on disk; of one that cannot be read, a word that is no version."""
    try:
        return version_of(bytes_of(file))
    except OSError:
        return "unreadable"


def encoded_like(before: bytes | None, text: str) -> bytes:
    """A text with the byte-order mark and the line endings that the file had before."""
    if before is None:
        return text.encode()
    if before.count(b"\r\n") and before.count(b"\r\n") == before.count(b"\n"):
        text = text.replace("\n", "\r\n")
    return (codecs.BOM_UTF8 if before.startswith(codecs.BOM_UTF8) else b"") + text.encode()
