"""What is above a line of YAML that is being typed, by how far its lines are indented."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_LINE = re.compile(
    r"(?P<indent>[ >]*)(?P<dash>-(?:[ ]+|$))?"
    r"(?:(?P<key>[A-Za-z][\w-]*):(?:[ ]+(?P<value>.*))?$|(?P<text>.*)$)"
)
_PLAIN = re.compile(r"[\w./-]*")


@dataclass(frozen=True)
class Above:
    """path: the keys above, outermost first. key, value: those of the line; None: no key is whole yet.

    typed: the word that is begun where there is no key. dash: whether the line begins an entry of a list.
    beside: the keys of the same mapping, the first of them first. items: entries of the same list.
    """

    path: tuple[str, ...]
    key: str | None
    value: str
    typed: str
    dash: bool
    beside: tuple[str, ...]
    items: tuple[str, ...]

    @property
    def overlay(self) -> str:
        """The key that its mapping begins with, which names the kind of an overlay."""
        return (*self.beside, self.key or "")[0]


@dataclass(frozen=True)
class _Line:
    """dash, column: where its dash and its key or text begin; dash is None without one."""

    dash: int | None
    column: int
    key: str | None
    value: str
    text: str


def above(written: Sequence[str], line: str) -> Above | None:
    """What is above `line`, the part of it before the cursor; None for a text in several lines of its own.

    written: the lines above it, outermost first.
    """
    here = _read(line)
    lines = [_read(one) for one in written if one.strip(" >") and not one.lstrip(" >").startswith("#")]
    if here.key is None and not _PLAIN.fullmatch(here.text):
        parent = next((one for one in reversed(lines) if one.key and one.column < here.column), None)
        return None if parent is None else Above((parent.key or "",), None, "", "", False, (), ())
    beside, items, first = _mapping(lines, here)
    path = tuple(_parents(lines[:first], here if here.dash is not None or not beside else lines[first]))
    return Above(path, here.key, here.value, here.text, here.dash is not None, beside, items)


def _read(line: str) -> _Line:
    found = _LINE.match(line)
    assert found is not None  # every line is one of these
    dash = len(found["indent"]) if found["dash"] else None
    column = len(found["indent"]) + len(found["dash"] or "")
    return _Line(dash, column, found["key"], (found["value"] or ""), found["text"] or "")


def _mapping(lines: Sequence[_Line], here: _Line) -> tuple[tuple[str, ...], tuple[str, ...], int]:
    """The keys beside a line, the items of its list, and the number of the line its mapping begins with."""
    beside: list[str] = []
    items: list[str] = []
    first = len(lines)
    for number in reversed(range(len(lines))):
        one = lines[number]
        if here.dash is not None:
            if one.dash == here.dash:
                items.append(one.text)
                first = number
            elif one.column <= here.dash:
                break
            continue
        if one.column < here.column:
            break
        if one.column == here.column and one.key is not None:
            beside.append(one.key)
            first = number
            if one.dash is not None:
                break
    return tuple(reversed(beside)), tuple(reversed(items)), first


def _parents(lines: Sequence[_Line], of: _Line) -> Iterator[str]:
    """The keys above a line, outermost first. A list may begin as far left as its key."""
    most = of.column - 1 if of.dash is None else of.dash
    for number in reversed(range(len(lines))):
        one = lines[number]
        if one.key is not None and one.dash is None and one.column <= most:
            yield from _parents(lines[:number], one)
            yield one.key
            return
        if one.key is not None and one.dash is not None and one.column <= most:
            yield from _parents(lines[:number], one)
            yield one.key
            return
