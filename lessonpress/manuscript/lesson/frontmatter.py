"""What is between `---` lines at the head of a lesson or page."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TypeVar

from lessonpress.manuscript.fields.written import Written, keys_of, read_fields, required
from lessonpress.manuscript.text.passage import Passage
from lessonpress.manuscript.yaml.nodes import Mapping, compose_yaml
from lessonpress.records import Problems

F = TypeVar("F", bound=Written)

_RULE = re.compile(r"---[ \t]*\Z")
_END = re.compile(r"(---|\.\.\.)[ \t]*\Z")


def split(passage: Passage, problems: Problems) -> tuple[Passage | None, int]:
    """The front matter and the line (from 0) on which the body begins.

    Without front matter: None and 0. Where it is not closed: None and the last line, once that is reported.
    """
    lines = passage.lines
    if not _RULE.match(lines[0]):
        return None, 0
    end = front_end(lines)
    if end is not None:
        return passage.part(1, end), end + 1
    problems.error(
        passage.spot(0), "the front matter opened here is not closed", "close it with a line `---`"
    )
    return None, len(lines)


def front_end(lines: Sequence[str]) -> int | None:
    """The line (from 0) that closes a text's front matter, which line 0 opens; None where there is none."""
    if not _RULE.match(lines[0]):
        return None
    return next((number for number, line in enumerate(lines[1:], 1) if _END.match(line)), None)


def read_front(model: type[F], passage: Passage, problems: Problems, what: str) -> tuple[F | None, int]:
    """A text's front matter as the model says, and the line (from 0) on which its body begins."""
    front, body = split(passage, problems)
    if front is None and body:
        return None, body
    if front is None:
        keys = [key for key in keys_of(model) if key in required(model)]
        right = f"begin with a line `---`, then {', '.join(f'`{key}: …`' for key in keys)}, then `---`"
        problems.error(passage.at(0), f"{what} has no front matter", right)
        return None, 0
    node = compose_yaml(front, problems)
    if isinstance(node, Mapping) or node is None:
        return read_fields(model, node, problems), body
    problems.error(
        passage.spot(0), "the front matter holds no `key: value` lines", f"add `{keys_of(model)[0]}: …`"
    )
    return None, body
