"""Fenced blocks that are not closed: reported where they open, and closed so that reading goes on."""

from __future__ import annotations

import re

from markdown_it.token import Token

from lessonpress.manuscript.lesson.kinds import EXAMPLE, FIGURE_KINDS, KINDS, kind_and_rest
from lessonpress.manuscript.lesson.prose import parse
from lessonpress.manuscript.text.passage import Passage, Row
from lessonpress.manuscript.yaml.nodes import Mapping, compose_yaml
from lessonpress.records import Location, Problems

MOST = 40  # open fences of one text that are closed, and ends of one figure that are tried
_MEANT = re.compile(
    r"(?:[`~] ?){2,}[^\w`~]?"
)  # a line that was to close a block, and by its marks closes none


def closed(text: Passage, problems: Problems) -> tuple[Passage, frozenset[int]]:
    """The text with its blocks closed, and the file's lines of the fences that were not."""
    opened: set[int] = set()
    for _ in range(MOST):
        last = next(((token, end) for token in parse(text) if (end := _end(text, token)) is not None), None)
        if last is None:
            break
        token, end = last
        location = fence_location(text, token)
        problems.error(
            location, "the block opened here is not closed", f"close it with a line {token.markup}"
        )
        opened.add(location.line)
        text = _with_fence(text, token, end, instead=_was_meant(text, token, end))
    return text, frozenset(opened)


def fence_location(text: Passage, token: Token) -> Location:
    """Where a fenced block opens."""
    line = token.map[0] if token.map else 0
    return text.spot(line, max(0, text.line(line).find(token.markup)))


def _end(text: Passage, token: Token) -> int | None:
    """The line of the text before which a block left open should be closed; None for one that is closed.

    A fence of the same marks inside, which opens a block of its own, shows that this one was left open.
    A line of other marks, or of fewer, shows where a figure was to be closed.
    """
    kind, _ = kind_and_rest(token.info) if token.type == "fence" else ("", "")
    if kind not in KINDS or token.map is None:
        return None
    first, last = token.map
    inside = token.content.removesuffix("\n").split("\n") if token.content else []
    opening = re.compile(rf"\s*{re.escape(token.markup)}{re.escape(token.markup[0])}*\s*[^\s`~]")
    meant = next((at for at, line in enumerate(inside) if _MEANT.fullmatch(line.strip())), None)
    other = next((at for at, line in enumerate(inside) if opening.match(line)), None)
    if kind != EXAMPLE and other is not None:
        inside = inside[:other]
    elif _is_closing(text.line(last - 1), token) and last - first > 1:
        return None
    if kind in FIGURE_KINDS and meant is not None and meant <= len(inside):
        return first + 1 + meant
    if kind in FIGURE_KINDS:
        return first + 1 + _length(text.cut("\n".join(inside), first + 1), inside)
    return first + 1 + len(inside)


def _was_meant(text: Passage, token: Token, end: int) -> bool:
    """Whether the line before which a block is to be closed was meant to close it."""
    assert token.map is not None
    return end < token.map[1] and _MEANT.fullmatch(text.line(end).strip()) is not None


def _is_closing(line: str, token: Token) -> bool:
    marks = re.escape(token.markup)
    return re.fullmatch(rf"{marks}{re.escape(token.markup[0])}*", line.strip(" \t>")) is not None


def _length(passage: Passage, lines: list[str]) -> int:
    """How many of the lines are the figure: as many as make YAML, up to an empty line or the last."""
    ends = [at for at in range(len(lines), 0, -1) if at == len(lines) or not lines[at].strip()]
    for end in ends[:MOST]:
        if isinstance(compose_yaml(passage.part(0, end), Problems()), Mapping):
            return end
    return ends[-1] if ends else 0


def _with_fence(text: Passage, token: Token, end: int, *, instead: bool) -> Passage:
    """The text with a closing fence before line `end`, which has no line of its own in the file.

    instead: the fence takes that line's place.
    """
    assert token.map is not None
    before = text.line(token.map[0])
    indent = re.sub(r"[^\s>]", " ", before[: max(0, before.find(token.markup))])
    lines, rows = text.lines, list(text.rows)
    if instead:
        lines[end] = indent + token.markup
    else:
        last = rows[end - 1]
        lines.insert(end, indent + token.markup)
        rows.insert(end, Row(last.number, last.shift, last.line))
    return Passage(text.path, "\n".join(lines), tuple(rows))
