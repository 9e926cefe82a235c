"""Documents of cases: Markdown whose fenced blocks hold what was written and what must come of it.

A case is a heading of the second level with the blocks below it; where a document has no such heading, the
whole of it is one case under its title. Every room that has documents reads them here, and says beside its
tests what its blocks mean.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

_FENCE = re.compile(r"(`{3,})([^`]*)")


@dataclass(frozen=True)
class Block:
    """One fenced block: the lines in it, and what says which block it is.

    words: those behind its fence. label: the last line of text before it in its case, "" where a block or
    the heading comes first. line: of its first line of text in the document, from 1.
    """

    path: Path
    line: int
    words: tuple[str, ...]
    label: str
    lines: tuple[str, ...]

    @property
    def text(self) -> str:
        return "\n".join(self.lines)

    def __str__(self) -> str:
        return f"{self.path.name}:{self.line}"


@dataclass(frozen=True)
class Case:
    """title: of its heading, at `line` of the document, from 1. text: its lines outside the blocks."""

    path: Path
    line: int
    title: str
    text: tuple[str, ...]
    blocks: tuple[Block, ...]

    def __str__(self) -> str:
        return f"{self.path.name}:{self.line}"

    def named(self, *words: str) -> tuple[Block, ...]:
        """Its blocks of which the first word behind the fence is one of these."""
        return tuple(block for block in self.blocks if block.words and block.words[0] in words)


Holds = Callable[[Block, str], None]


def cases_in(folder: Path) -> list[Case]:
    """The cases of all documents of a folder, which is listed, so that none can be forgotten."""
    found = [case for path in sorted(folder.glob("*.md")) for case in cases_of(path)]
    if not found:
        raise ValueError(f"{folder} has no cases")
    return found


def cases_of(path: Path) -> list[Case]:
    """The cases of one document. ValueError where a block is not closed or a heading has none."""
    lines = path.read_text(encoding="utf-8").split("\n")
    fenced = dict(_fences(path, lines))
    inside = {number for start, end in fenced.items() for number in range(start, end + 1)}
    outside = [number for number in range(len(lines)) if number not in inside]
    starts = [number for number in outside if lines[number].startswith("## ")] or [0]
    if any(number < starts[0] for number in fenced):
        raise ValueError(f"{path.name}:{min(fenced) + 1}: this block is before the first case")
    made = [_case(path, lines, start, end, fenced, inside) for start, end in pairwise([*starts, len(lines)])]
    for case in made:
        if not case.blocks:
            raise ValueError(f"{case} has no block")
    return made


def _fences(path: Path, lines: list[str]) -> Iterator[tuple[int, int]]:
    """The lines, from 0, with which each block begins and ends."""
    number = 0
    while number < len(lines):
        if fence := _FENCE.fullmatch(lines[number]):
            try:
                end = lines.index(fence[1], number + 1)
            except ValueError:
                raise ValueError(f"{path.name}:{number + 1}: this block is not closed") from None
            yield number, end
            number = end
        number += 1


def _case(
    path: Path, lines: list[str], start: int, end: int, fenced: dict[int, int], inside: set[int]
) -> Case:
    text = [lines[number] for number in range(start + 1, end) if number not in inside]
    blocks, label = [], ""
    for number in range(start + 1, end):
        if number in fenced:
            words = tuple(lines[number].strip("`").split())
            held = tuple(lines[number + 1 : fenced[number]])
            blocks.append(Block(path, number + 2, words, label, held))
            label = ""
        elif number not in inside and lines[number].strip():
            label = lines[number]
    title = lines[start].lstrip("#").strip()
    return Case(path, start + 1, title, tuple(text), tuple(blocks))


class Remade:
    """What blocks of documents are to hold from now on, and the difference that it makes."""

    def __init__(self) -> None:
        self._came: dict[Path, dict[Block, str]] = {}

    def note(self, block: Block, came: str) -> None:
        self._came.setdefault(block.path, {})[block] = came

    def write(self) -> Iterator[str]:
        """Write the documents anew; yields what changed in each, as a unified diff."""
        for path, blocks in sorted(self._came.items()):
            was = path.read_text(encoding="utf-8").split("\n")
            now = list(was)
            for block, came in sorted(blocks.items(), key=lambda one: -one[0].line):
                first = block.line - 1
                now[first : first + len(block.lines)] = came.split("\n") if came else []
            path.write_text("\n".join(now), encoding="utf-8")
            yield "\n".join(difflib.unified_diff(was, now, str(path), str(path), lineterm=""))
