"""Deep nesting and aliases that grow."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.sound import LESSON, PAGE
from tests.corpus.texts.fields import Raw, replace_a_field


def spoil(root: Path, random: Random) -> str:
    depth = random.choice((30, 300, 3000, 30_000))
    kind = random.randrange(4)
    if kind == 0:
        return replace_a_field(root, random, Raw("[" * depth + "]" * depth))
    if kind == 1:
        return replace_a_field(root, random, Raw("{a: " * depth + "b" + "}" * depth))
    if kind == 2:
        levels = [f"&l{level} [" + ", ".join([f"*l{level - 1}"] * 9) + "]" for level in range(1, 12)]
        return replace_a_field(root, random, Raw("[&l0 [x], " + ", ".join(levels) + "]"))
    name = random.choice((LESSON, PAGE))
    mark = random.choice(("> ", "- ", "1. ", "[", "*", "**a ", "`", "![", "<", "(", "_a "))
    with (root / name).open("a") as file:
        file.write("\n\n" + mark * depth + "x" + "\n")
    return f"{name}: {mark!r} {depth} deep"
