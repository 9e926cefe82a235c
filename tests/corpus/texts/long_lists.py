"""So many mistakes, or so many things, that what is said of them or made of them could have no end."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.sound import CARD, GLOSSARY, LESSON, MARKS, PAGE, SITE, TRACKS


def spoil(root: Path, random: Random) -> str:
    count = random.choice((300, 3000, 40_000))
    name, row = random.choice(
        (
            (TRACKS, "navel,x,1,1,1"),
            (MARKS, "Mark{n}: {{}}"),
            (CARD, "key{n}: 1"),
            (SITE, "key{n}: 1"),
            (GLOSSARY, "term{n}: []"),
            (GLOSSARY, "term{n}: a meaning"),
            (LESSON, "{{nothing{n}}}"),
            (PAGE, "[x](lesson{n}.md)"),
            (LESSON, "the left elbow {n}"),
            (MARKS, "left-elbow-{n}: {{0: [1, 1]}}"),
        )
    )
    with (root / name).open("a") as file:
        file.write("\n" + "".join(row.format(n=n) + "\n" for n in range(count)))
    return f"{name}: {count} times {row!r}"
