"""Edits of a YAML text by path that leave every other character of it as it was.

A round trip through a dumper would lay an author's file out anew, and lose the comment written before an
entry when the one above it goes. So the text is composed (PyYAML) for the places of its nodes, the one
value is put in at its place, and the result is composed again: where it does not say exactly what was meant,
the edit is refused.

A path is keys (text) and list places (numbers from 0): `("events", "top")`, `("scale", 0, "length")`. Keys
are compared as written, so that frame 12 is the key "12".
Comments are never taken away: that of an entry which goes stays as a line of its own.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

import yaml
from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from lessonpress.manuscript import value_of, written, written_key

Path = tuple[str | int, ...]
Value = Any  # what YAML holds: None, bool, int, float, str, lists and mappings of them

_BOM = "\ufeff"


class _Absent:
    """What is at a path where nothing is."""

    def __repr__(self) -> str:
        return "ABSENT"


ABSENT = _Absent()


class UneditableError(Exception):
    """The text is not YAML, or written in a way that cannot be edited by machine without harm."""


def value_at(text: str, path: Path) -> Value | _Absent:
    """What is at a path, ABSENT where nothing does. Raises UneditableError for what is not YAML."""
    return _within(plain(text), path)


def plain(text: str) -> Value:
    """The whole text's value by YAML's core schema; keys as written. {} for an empty text."""
    root = _compose(text)
    return {} if root is None else _plain(root)


def edited(text: str, path: Path, value: Value | _Absent, *, blocks: int = 0) -> str:
    """The text with `value` at `path`, or with nothing there for ABSENT.

    blocks: how many levels of a new mapping are laid out a line an entry; those below are in braces.
    Raises UneditableError.
    """
    bom = _BOM if text.startswith(_BOM) else ""
    body = text.removeprefix(_BOM)
    meant = _with(plain(body), path, value)
    newline = "\r\n" if "\r\n" in body else "\n"
    editor = _Editor(body.replace("\r\n", "\n"), blocks)
    made = editor.taken(path) if isinstance(value, _Absent) else editor.put(path, value)
    if plain(made) != meant:
        raise UneditableError("this place is written in a way that cannot be changed by machine without harm")
    return bom + made.replace("\n", newline)


def _compose(text: str) -> Node | None:
    try:
        root: Node | None = yaml.compose(text, Loader=yaml.SafeLoader)
    except (yaml.YAMLError, ValueError, RecursionError) as error:
        raise UneditableError("this is not YAML") from error
    return root


def _plain(node: Node) -> Value:
    if isinstance(node, MappingNode):
        return {key.value: _plain(value) for key, value in node.value}
    if isinstance(node, SequenceNode):
        return [_plain(item) for item in node.value]
    assert isinstance(node, ScalarNode)
    return node.value if node.style else value_of(node.value)


def _within(data: Value, path: Path) -> Value | _Absent:
    for step in path:
        if isinstance(data, dict) and str(step) in data:
            data = data[str(step)]
        elif isinstance(step, int) and isinstance(data, list) and step < len(data):
            data = data[step]
        else:
            return ABSENT
    return data


def _with(data: Value, path: Path, value: Value | _Absent) -> Value:
    """The data as an edit is to leave it. A collection that an edit leaves empty goes too."""
    file_passage = deepcopy(data) if isinstance(data, dict) else {}
    holder: Any = file_passage
    trail: list[tuple[Any, Any]] = []  # each collection on the way, and the key or place in it
    for number, step in enumerate(path):
        key = step if isinstance(holder, list) else str(step)
        trail.append((holder, key))
        if number == len(path) - 1:
            break
        inner = _within(holder, (key,))
        if inner is ABSENT or inner is None:
            if value is ABSENT:
                return file_passage
            inner = [] if isinstance(path[number + 1], int) else {}
            _set(holder, key, inner)
        holder = inner
    holder, last = trail[-1]
    if not isinstance(value, _Absent):
        _set(holder, last, _as_read(value))
    elif _within(holder, (last,)) is not ABSENT:
        for outer, key in reversed(trail):
            if outer is not holder and outer[key]:
                break
            outer.pop(key)
    return file_passage


def _set(holder: Any, key: str | int, value: Value) -> None:
    if isinstance(holder, dict):
        holder[key] = value
    elif isinstance(holder, list) and isinstance(key, int) and key <= len(holder):
        holder[key : key + 1] = [value]
    else:
        raise UneditableError(f"nothing can be written at `{key}` here")


def _as_read(value: Value) -> Value:
    if isinstance(value, Mapping):
        return {str(key): _as_read(one) for key, one in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_as_read(one) for one in value]
    return value


@dataclass(frozen=True)
class _Entry:
    """An entry of a mapping or list. start: of its key or its dash. key: None in a list."""

    key: str | None
    start: int
    value: Node
    colon: int  # just past the key's colon, or the dash
    end: int  # just past the last character of its content, comments not counted


@dataclass(frozen=True)
class _Editor:
    """text: lines parted by a newline, no byte-order mark."""

    text: str
    blocks: int

    def put(self, path: Path, value: Value) -> str:
        node = _compose(self.text)
        if node is None or (isinstance(node, ScalarNode) and not node.value):
            head = self.text if not self.text or self.text.endswith("\n") else self.text + "\n"
            return head + self._entry_text(path[0], _nested(path[1:], value), 0, self.blocks) + "\n"
        for number, step in enumerate(path):
            at_step = self._entry(node, step)
            if at_step is None:
                return self._inserted(node, step, _nested(path[number + 1 :], value), self.blocks - number)
            last = number == len(path) - 1
            if last or (isinstance(at_step.value, ScalarNode) and not at_step.value.value):
                file_passage = value if last else _nested(path[number + 1 :], value)
                return self._replaced(node, at_step, file_passage, self.blocks - number)
            node = at_step.value
        raise UneditableError("the whole file cannot be replaced")

    def taken(self, path: Path) -> str:
        node = _compose(self.text)
        holders: list[tuple[Node, _Entry]] = []
        for step in path:
            at_step = None if node is None else self._entry(node, step)
            if node is None or at_step is None:
                return self.text
            holders.append((node, at_step))
            node = at_step.value
        while len(holders) > 1 and len(holders[-1][0].value) == 1:
            holders.pop()  # the last entry of a collection: the collection goes
        return self._removed(*holders[-1])

    # finding

    def _entries(self, node: Node) -> list[_Entry]:
        if isinstance(node, MappingNode):
            return [self._pair(key, value) for key, value in node.value]
        if isinstance(node, SequenceNode):
            return [self._item(item, _flows(node)) for item in node.value]
        return []

    def _entry(self, node: Node, step: str | int) -> _Entry | None:
        entries = self._entries(node)
        if isinstance(node, SequenceNode):
            return entries[step] if isinstance(step, int) and step < len(entries) else None
        return next((entry for entry in entries if entry.key == str(step)), None)

    def _pair(self, key: Node, value: Node) -> _Entry:
        colon = self.text.index(":", key.end_mark.index) + 1
        empty = isinstance(value, ScalarNode) and value.start_mark.index == value.end_mark.index
        end = colon if empty else self._end(value)
        return _Entry(key.value, key.start_mark.index, value, colon, max(end, colon))

    def _item(self, item: Node, flow: bool) -> _Entry:
        start = item.start_mark.index
        dash = (
            start
            if flow
            else self.text.rindex("-", 0, start + 1 if self.text[start : start + 1] == "-" else start)
        )
        return _Entry(None, dash, item, dash if flow else dash + 1, self._end(item))

    def _end(self, node: Node) -> int:
        """Just past a node's own text: a block collection ends with its last entry, before what follows."""
        if isinstance(node, ScalarNode) or _flows(node) or not node.value:
            raw = self.text[node.start_mark.index : node.end_mark.index]
            return int(node.start_mark.index) + len(raw.rstrip("\n "))
        return self._entries(node)[-1].end

    # changing

    def _spliced(self, start: int, end: int, put: str) -> str:
        return self.text[:start] + put + self.text[end:]

    def _replaced(self, holder: Node, entry: _Entry, value: Value, blocks: int) -> str:
        block = not isinstance(entry.value, ScalarNode) and not _flows(entry.value)
        empty = isinstance(entry.value, ScalarNode) and entry.end == entry.colon
        if not (block or empty):
            return self._spliced(entry.value.start_mark.index, entry.end, written(value))
        indent = self._column(entry.start)
        laid = " " + written(value) if _flows(holder) else self._laid(value, indent, blocks - 1)
        return self._spliced(entry.colon, entry.end, laid)

    def _inserted(self, holder: Node, step: str | int, value: Value, blocks: int) -> str:
        entries = self._entries(holder)
        if isinstance(holder, ScalarNode):
            raise UneditableError("text is written where entries are expected")
        if isinstance(holder, SequenceNode) and step != len(entries):
            raise UneditableError(f"the list has {len(entries)} entries")
        if _flows(holder) or not entries:
            put = (
                written(value)
                if isinstance(holder, SequenceNode)
                else f"{written_key(step)}: {written(value)}"
            )
            at = entries[-1].end if entries else holder.start_mark.index + 1
            return self._spliced(at, at, f", {put}" if entries else put)
        indent = self._column(entries[0].start)
        before = self._before(entries, step)
        if isinstance(holder, SequenceNode):
            put = " " * indent + "- " + written(value)
        else:
            put = self._entry_text(step, value, indent, blocks)
        if before is None:
            at = self._line_start(entries[0].start)
            if self.text[at : entries[0].start].strip():
                raise UneditableError("another entry begins on this line")
            return self._spliced(at, at, put + "\n")
        at = self._line_end(before.end)
        return self._spliced(at, at, "\n" + put)

    def _before(self, entries: Sequence[_Entry], step: str | int) -> _Entry | None:
        """The entry to put a new one after: the last, or the last lower one where all keys are numbers."""
        keys = [entry.key for entry in entries]
        if str(step).isdigit() and all(key is not None and key.isdigit() for key in keys):
            lower = [entry for entry in entries if int(entry.key or 0) < int(step)]
            return lower[-1] if lower else None
        return entries[-1]

    def _entry_text(self, key: str | int, value: Value, indent: int, blocks: int) -> str:
        return f"{' ' * indent}{written_key(key)}:{self._laid(value, indent, blocks - 1)}"

    def _laid(self, value: Value, indent: int, blocks: int) -> str:
        """What follows a key's colon: a list of collections by lines, so a mapping where blocks are left."""
        inner = indent + 2
        if isinstance(value, Mapping) and value and blocks >= 0 and self.blocks:
            return "".join("\n" + self._entry_text(key, one, inner, blocks) for key, one in value.items())
        if isinstance(value, list) and value and all(isinstance(one, list | Mapping) for one in value):
            return "".join(f"\n{' ' * inner}- {written(one)}" for one in value)
        return " " + written(value)

    def _removed(self, holder: Node, entry: _Entry) -> str:
        entries = self._entries(holder)
        position = entries.index(entry)
        if _flows(holder):
            if position + 1 < len(entries):
                return self._spliced(entry.start, entries[position + 1].start, "")
            return self._spliced(entries[position - 1].end if position else entry.start, entry.end, "")
        start, end = self._line_start(entry.start), self._line_end(entry.end)
        if self.text[start : entry.start].strip():  # `- first: …`: what follows takes its place
            if position + 1 >= len(entries):
                raise UneditableError("this entry is alone on a list's line")
            return self._spliced(entry.start, entries[position + 1].start, "")
        kept = "".join(
            " " * self._column(entry.start) + comment + "\n" for comment in self._comments(entry, end)
        )
        return self._spliced(start, min(end + 1, len(self.text)), kept)

    def _comments(self, entry: _Entry, line_end: int) -> list[str]:
        """The comments inside an entry and after it on its line, as written."""
        comments = []
        lines = self.text[entry.start : line_end].split("\n")
        tokens = {mark for mark in _comment_starts(self.text) if entry.start <= mark < line_end}
        at = entry.start
        for line in lines:
            marks = [mark for mark in tokens if at <= mark < at + len(line) + 1]
            if marks:
                comments.append(self.text[min(marks) : at + len(line)].rstrip())
            at += len(line) + 1
        return comments

    def _column(self, at: int) -> int:
        return at - self._line_start(at)

    def _line_start(self, at: int) -> int:
        return self.text.rfind("\n", 0, at) + 1

    def _line_end(self, at: int) -> int:
        end = self.text.find("\n", at)
        return len(self.text) if end < 0 else end


def _flows(node: Node) -> bool:
    """Whether a collection is in brackets or braces."""
    return isinstance(node, MappingNode | SequenceNode) and bool(node.flow_style)


def _nested(path: Path, value: Value) -> Value:
    for step in reversed(path):
        if isinstance(step, int) and step != 0:
            raise UneditableError("a new list begins with its first entry")
        value = [value] if isinstance(step, int) else {step: value}
    return value


_SCAN = re.compile(r"'(?:[^']|'')*'|\"(?:[^\"\\]|\\.)*\"|(?:(?<=\s)|^)#[^\n]*", re.M)


def _comment_starts(text: str) -> list[int]:
    """Where comments begin: at a # that follows a blank, outside quotes."""
    return [at_step.start() for at_step in _SCAN.finditer(text) if at_step[0].startswith("#")]
