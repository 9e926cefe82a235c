"""Texts that have no end for practical purposes: holes, one long line, many short ones."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.sound import TEXTS

FILLINGS = (
    "\n",
    "a",
    "- ",
    "> ",
    "[",
    "*a",
    "`",
    "{",
    "a: b\n",
    "{navel-back} ",
    "| a ",
    "<a>",
    "![",
    "&a ",
    "1. ",
    "\t",
)


def spoil(root: Path, random: Random) -> str:
    name = random.choice(TEXTS)
    path = root / name
    if random.random() < 0.3:
        with path.open("r+b") as file:
            file.truncate(random.choice((3_000_000, 40_000_000, 50_000_000_000)))
        return f"{name} ends in a hole"
    filling = random.choice(FILLINGS)
    size = random.choice((50_000, 400_000, 1_900_000))
    with path.open("a", encoding="utf-8") as file:
        file.write("\n" + filling * (size // len(filling)))
    return f"{name} ends in {size} bytes of {filling!r}"
