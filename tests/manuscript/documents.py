"""What the documents of mistakes/ hold: files of a site with their paths, and what is reported of them.

A file is a line that holds its path in backquotes and a fenced block below it; words after the block's
language say how it is saved (crlf, cr, bom, utf-16, windows-1252). `Without PATH.` takes a file of the sound
site away. The block after `Told:` is the expected output, word for word.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from tests.documents import Block, Case

FOLDER = Path(__file__).parent / "mistakes"
TOLD = "Told:"
SOUND = {
    "site.yaml": b"title: Saltmarsh Swing Notes\n",
    "clips/dune/dune.mp4": b"",
    "clips/dune/clip.yaml": b"video: dune.mp4\nview: face-on\nhand: right\nsource: {kind: own}\npeople: []\n",
    "lessons/hips.md": b"---\ntitle: The hips travel\ndate: 2026-11-23\nclip: dune\n---\n",
}


def lay_out(files: Mapping[str, bytes], root: Path) -> None:
    """Write files under `root` by their paths."""
    for name, data in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def files_of(case: Case) -> dict[str, bytes]:
    """The sound site's files with the case's in place of them."""
    gone = {found[1] for line in case.text if (found := re.fullmatch(r"Without `(.+)`\.", line))}
    written = {block.label.strip("`"): _bytes(block) for block in case.blocks if block.label != TOLD}
    return {name: data for name, data in {**SOUND, **written}.items() if name not in gone}


def told_of(case: Case) -> Block:
    """The block of what is reported."""
    (told,) = (block for block in case.blocks if block.label == TOLD)
    return told


def _bytes(block: Block) -> bytes:
    text = "".join(f"{line}\n" for line in block.lines)
    for word, end in (("crlf", "\r\n"), ("cr", "\r")):
        if word in block.words[1:]:
            text = text.replace("\n", end)
    encodings = {"bom": "utf-8-sig", "utf-16": "utf-16", "windows-1252": "cp1252"}
    return text.encode(next((encodings[word] for word in block.words[1:] if word in encodings), "utf-8"))
