"""The rules for names: of marks, ids and events inside files, and of files, which become web addresses."""

from __future__ import annotations

import re
import unicodedata

NAME = re.compile(r"[a-z][a-z0-9-]*")
LONGEST_NAME = 64  # characters; names of files have up to 255 bytes, and more is added to it
LONGEST_FILE_NAME = 255  # bytes, by common file systems (from memory)
FILE_NAME = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9._-]*[A-Za-z0-9_-])?")


def plain_name(name: str) -> str:
    """A name without accents, capitals, spaces and signs: "Día 1" → "dia-1"; "" where nothing is left."""
    bare = "".join(
        letter for letter in unicodedata.normalize("NFKD", name) if not unicodedata.combining(letter)
    )
    return re.sub(r"[^a-z0-9]+", "-", bare.lower()).strip("-")


def near_name(name: str) -> tuple[str, ...]:
    """The plain name close to a text, if there is one that can name a mark, an id or an event."""
    plain = plain_name(name)
    return (plain,) if NAME.fullmatch(plain) else ()
