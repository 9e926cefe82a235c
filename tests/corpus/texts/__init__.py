"""Damage to what an author writes: a family a module, `spoil(root, random)` says what it did."""

from __future__ import annotations

from tests.corpus.case import SpoilText
from tests.corpus.texts import (
    damaged_bytes,
    encodings,
    endless,
    escapes,
    figures,
    kinds_of_files,
    links,
    long_lists,
    names,
    nesting,
    rows,
    scripts,
    templates,
    unicode_tricks,
    values,
)

FAMILIES: dict[str, SpoilText] = {
    "values": values.spoil,
    "scripts": scripts.spoil,
    "templates": templates.spoil,
    "escapes": escapes.spoil,
    "links": links.spoil,
    "files": kinds_of_files.spoil,
    "endless": endless.spoil,
    "nesting": nesting.spoil,
    "bytes": damaged_bytes.spoil,
    "encodings": encodings.spoil,
    "names": names.spoil,
    "figures": figures.spoil,
    "rows": rows.spoil,
    "lists": long_lists.spoil,
    "unicode": unicode_tricks.spoil,
}
