"""Paths that lead out of the site, in every field that names a file, an address or a theme."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.sound import CARD, LESSON, PAGE, SITE
from tests.corpus.texts.fields import replace_a_field

PATHS = (
    "../outside/private.txt",
    "../../outside",
    "/etc/passwd",
    "/etc",
    "..",
    ".",
    "./",
    "/",
    "~",
    "~root/x",
    "..\\outside",
    "C:\\Windows\\x",
    "\\\\host\\share",
    "file:///etc/passwd",
    "a/../../outside/x",
    "%2e%2e/outside",
    "..%2foutside",
    "....//outside",
    "index.html",
    "press.json",
    "lessons/pelvis/index.html",
    "a\0b",
    "a\nb",
    "nul",
    "https://e.example/../x",
    "//e.example/x",
    "feed.xml",
    "404.html",
    "lessons/pelvis",
    "old/" * 40 + "x",
    "x" * 300,
)
_KEYS = {
    SITE: ("theme", "url", "language"),
    LESSON: ("former", "clip", "topics", "series"),
    PAGE: ("former",),
}


def spoil(root: Path, random: Random) -> str:
    where = random.choice(PATHS)
    (root.parent / "outside").mkdir(exist_ok=True)
    (root.parent / "outside" / "private.txt").write_text("kept to oneself\n")
    kind = random.randrange(3)
    if kind == 0:
        return replace_a_field(root, random, where)
    if kind == 1:
        name = random.choice((LESSON, PAGE))
        path = root / name
        path.write_text(path.read_text() + f"\n[x](<{where}>) ![y](<{where}>)\n")
        return f"{name}: links to {where!r}"
    name = random.choice((SITE, LESSON, PAGE, CARD))
    key = random.choice(_KEYS.get(name, ("video",)))
    return _put(root / name, key, where)


def _put(path: Path, key: str, value: str) -> str:
    written = (
        value.replace("\0", "\\0").replace("\n", "\\n") if "\\" not in value else value.replace("\\", "\\\\")
    )
    lines = [line for line in path.read_text().split("\n") if not line.startswith(f"{key}:")]
    lines.insert(1, f'{key}: "{written}"')
    path.write_text("\n".join(lines))
    return f"{path.name}: {key} is {value!r}"
