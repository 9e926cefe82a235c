"""Reads the documents of mistakes/: a title, files with their paths, and what is reported of them.

A file is a line that holds its path in backquotes and a fenced block below it; words after the block's
language say how it is saved (crlf, cr, bom, utf-16, windows-1252). `Without PATH.` takes a file of the sound
site away. The block after `Told:` is the expected output, word for word.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

FOLDER = Path(__file__).parent / "mistakes"
SOUND = {
    "site.yaml": b"title: Saltmarsh Swing Notes\n",
    "clips/dune/dune.mp4": b"",
    "clips/dune/clip.yaml": b"video: dune.mp4\nview: face-on\nhand: right\nsource: {kind: own}\npeople: []\n",
    "lessons/hips.md": b"---\ntitle: The hips travel\ndate: 2026-11-23\nclip: dune\n---\n",
}


@dataclass
class Document:
    """told: the expected text. line: where it begins in the document, from 1."""

    path: Path
    title: str
    files: dict[str, bytes] = field(default_factory=dict)
    told: str = ""
    line: int = 0

    def lay_out(self, root: Path) -> None:
        """Write the sound site under `root`, with this document's files in place of its own."""
        for name, data in self.files.items():
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)


def document(path: Path) -> Document:
    lines = path.read_text(encoding="utf-8").split("\n")
    made = Document(path, lines[0].removeprefix("# "), dict(SOUND))
    label, number = "", 0
    while number < len(lines):
        line = lines[number]
        if fence := re.match(r"(`{3,})(.*)", line):
            end = lines.index(fence[1], number + 1)
            _block(made, label, lines[number + 1 : end], fence[2].split()[1:], number + 2)
            number = end
        elif gone := re.fullmatch(r"Without `(.+)`\.", line):
            del made.files[gone[1]]
        elif line.strip():
            label = line
        number += 1
    return made


def _block(made: Document, label: str, lines: list[str], saved: list[str], number: int) -> None:
    if label == "Told:":
        made.told, made.line = "\n".join(lines), number
    else:
        made.files[label.strip("`")] = _bytes("".join(f"{line}\n" for line in lines), saved)


def _bytes(text: str, saved: list[str]) -> bytes:
    for word, end in (("crlf", "\r\n"), ("cr", "\r")):
        if word in saved:
            text = text.replace("\n", end)
    encodings = {"bom": "utf-8-sig", "utf-16": "utf-16", "windows-1252": "cp1252"}
    return text.encode(next((encodings[word] for word in saved if word in encodings), "utf-8"))


def documents() -> list[Document]:
    """Every document of the folder, found by listing it."""
    return [document(path) for path in sorted(FOLDER.glob("*.md"))]
