"""Two changes of one text brought together line by line, and where they collide."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

Lines = list[str]


@dataclass(frozen=True)
class Collision:
    """Lines that both changed, each in its own way. line: of the first of them in the base, from 1."""

    line: int
    was: str
    to: str
    disk: str


def merged(was: str, to: str, disk: str) -> str | tuple[Collision, ...]:
    """`was` with the changes that lead to `to` and those that lead to `disk`, or where they collide.

    Changes collide where they touch the same or neighbouring lines and differ.
    """
    base, mine, theirs = (text.splitlines(keepends=True) for text in (was, to, disk))
    made: Lines = []
    collisions: list[Collision] = []
    at = 0
    for first, last, own, other in _regions(base, mine, theirs):
        made += base[at:first]
        at = last
        before = base[first:last]
        if own == other or other == before:
            made += own
        elif own == before:
            made += other
        else:
            collisions.append(Collision(first + 1, "".join(before), "".join(own), "".join(other)))
    if collisions:
        return tuple(collisions)
    return "".join(made + base[at:])


@dataclass(frozen=True)
class _Change:
    """Base lines first..last-1 become `put`."""

    first: int
    last: int
    put: Lines


def _changes(base: Sequence[str], other: Sequence[str]) -> list[_Change]:
    matcher = SequenceMatcher(None, base, other, autojunk=False)
    return [
        _Change(i1, i2, list(other[j1:j2])) for tag, i1, i2, j1, j2 in matcher.get_opcodes() if tag != "equal"
    ]


def _regions(base: Lines, mine: Lines, theirs: Lines) -> Iterator[tuple[int, int, Lines, Lines]]:
    """Stretches of the base that either changed, changes that touch in one: first, last, mine, theirs."""
    sides = (_changes(base, mine), _changes(base, theirs))
    every = sorted((change.first, change.last) for side in sides for change in side)
    groups: list[tuple[int, int]] = []
    for first, last in every:
        if groups and first <= groups[-1][1]:
            groups[-1] = (groups[-1][0], max(groups[-1][1], last))
        else:
            groups.append((first, last))
    for first, last in groups:
        own, other = (_applied(base, side, first, last) for side in sides)
        yield first, last, own, other


def _applied(base: Lines, changes: list[_Change], first: int, last: int) -> Lines:
    made: Lines = []
    at = first
    for change in changes:
        if first <= change.first and change.last <= last:
            made += base[at : change.first] + change.put
            at = change.last
    return made + base[at:last]
