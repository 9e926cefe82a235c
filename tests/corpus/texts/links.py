"""Symbolic links in and out of the site, in place of texts and folders."""

from __future__ import annotations

import shutil
from pathlib import Path
from random import Random

from tests.corpus.sound import CLIP, TEXTS

TARGETS = (
    "/etc/passwd",
    "/dev/zero",
    "/dev/random",
    "/dev/full",
    "/dev/tty",
    "/dev/stdin",
    "/proc/self/mem",
    "/",
)
FOLDERS = ("lessons", "pages", "clips", f"clips/{CLIP}")


def spoil(root: Path, random: Random) -> str:
    outside = root.parent / "outside"
    outside.mkdir(exist_ok=True)
    (outside / "private.md").write_text("---\ntitle: xprivate\n---\nxprivate\n")
    kind = random.randrange(4)
    if kind == 0:
        name = random.choice(FOLDERS)
        moved = outside / "moved"
        shutil.move(root / name, moved)
        (root / name).symlink_to(moved)
        return f"{name} is a link to a folder outside"
    name = random.choice(TEXTS)
    (root / name).unlink()
    if kind == 1:
        target = random.choice(TARGETS)
        (root / name).symlink_to(target)
        return f"{name} is a link to {target}"
    if kind == 2:
        (root / name).symlink_to(
            random.choice((Path(name).name, "../" + Path(name).name, outside / "private.md"))
        )
        return f"{name} is a link to itself, to a neighbour or to a text outside"
    (root / "pages" / "private.md").symlink_to(outside / "private.md")
    return f"{name} is gone, and a page is a link to a text outside"
