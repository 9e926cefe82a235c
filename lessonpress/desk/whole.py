"""A file written whole or not at all, and its version."""

from __future__ import annotations

import codecs
import contextlib
import hashlib
import os
import secrets
from pathlib import Path

from lessonpress.manuscript import files


def version_of(content: bytes | None) -> str:
    """SHA-256 in hex; "" where there is no file."""
    return "" if content is None else hashlib.sha256(content).hexdigest()


def bytes_of(place: Path) -> bytes | None:
    """What a text holds, None where there is none. Raises OSError where it cannot be read, or is none."""
    try:
        return files.bytes_of(place)
    except FileNotFoundError:
        return None


def version_at(place: Path) -> str:
    """The version of a text on disk; of one that cannot be read, a word that is no version."""
    try:
        return version_of(bytes_of(place))
    except OSError:
        return "unreadable"


def write_whole(place: Path, content: bytes) -> None:
    """Puts `content` in the file's place: written beside it, brought to the disk, then renamed.

    Whatever stops this, kill -9 and a power cut among it, the file is the old one or the new one. A file
    that is left beside it is hidden (`.NAME.…`) and cleared by `tidy`. Raises OSError where the disk fails.
    """
    beside = place.with_name(f".{place.name}.{secrets.token_hex(4)}.saving")
    try:
        with beside.open("wb") as file:
            if place.exists():
                os.fchmod(file.fileno(), place.stat().st_mode & 0o7777) if hasattr(os, "fchmod") else None
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(place)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    _folder_to_disk(place.parent)


def encoded_like(before: bytes | None, text: str) -> bytes:
    """A text with the byte-order mark and the line endings that the file had before."""
    if before is None:
        return text.encode()
    if before.count(b"\r\n") and before.count(b"\r\n") == before.count(b"\n"):
        text = text.replace("\n", "\r\n")
    return (codecs.BOM_UTF8 if before.startswith(codecs.BOM_UTF8) else b"") + text.encode()


def tidy(folder: Path) -> None:
    """Clears what saves that were killed left beside their files."""
    for left in folder.glob(".*.saving"):
        left.unlink(missing_ok=True)


def _folder_to_disk(folder: Path) -> None:
    """The renaming itself, brought to the disk where the system lets folders be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
