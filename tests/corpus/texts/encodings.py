"""Texts saved otherwise than as UTF-8, and control characters in them."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.sound import TEXTS

ENCODINGS = (
    "utf-16",
    "utf-16-le",
    "utf-16-be",
    "utf-32",
    "utf-7",
    "cp1252",
    "cp037",
    "shift_jis",
    "utf-8-sig",
    "koi8-r",
)
BYTES = (
    b"\x00",
    b"\x1b[2J",
    b"\xff\xfe",
    b"\xed\xa0\x80",
    b"\xc0\xaf",
    b"\xf4\x90\x80\x80",
    b"\x80",
    b"\x0c",
    b"\x7f",
)


def spoil(root: Path, random: Random) -> str:
    name = random.choice(TEXTS)
    path = root / name
    if random.random() < 0.5:
        encoding = random.choice(ENCODINGS)
        path.write_bytes((path.read_text() + "# café ü\n").encode(encoding, "replace"))
        return f"{name} is {encoding}"
    data, piece = path.read_bytes(), random.choice(BYTES)
    at = random.randrange(len(data))
    path.write_bytes(data[:at] + piece + data[at:])
    return f"{name}: {piece!r} at {at}"
