"""Files and things of the site with long, odd and clashing names."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from random import Random

from tests.corpus.sound import CLIP, GLOSSARY, LESSON, PAGE
from tests.corpus.texts.fields import Raw, replace_a_field

NAMES = (
    "a" * 240,
    "index",
    "Pelvis",
    "con",
    "a b",
    "ä",
    "a\tb",
    "a\nb",
    "'",
    '"><b>',
    "-rf",
    "a.b.c",
    "feed",
    "..a",
    "%00",
    "揮",
)


def spoil(root: Path, random: Random) -> str:
    name = random.choice(NAMES)
    kind = random.randrange(5)
    if kind == 0:
        (root / "lessons" / f"{name}.md").write_bytes((root / LESSON).read_bytes())
    elif kind == 1:
        (root / "pages" / f"{name}.md").write_bytes((root / PAGE).read_bytes())
    elif kind == 2:
        shutil.copytree(root / "clips" / CLIP, root / "clips" / name)
    elif kind == 3:
        os.close(os.open(os.fsencode(root / "pages") + b"/\xff\xfe.md", os.O_CREAT | os.O_WRONLY))
    else:
        long = random.choice(("t" * 300, "a-" * 2000, "x/../../y", "é" * 200, "a" * 70_000))
        (root / GLOSSARY).write_text(f'"{long}": a meaning\n')
        return f"a glossary term of {len(long)} letters; " + replace_a_field(
            root, random, Raw(f'"{long}"'), LESSON
        )
    return f"kind {kind} of file is named {name[:40]!r}"
