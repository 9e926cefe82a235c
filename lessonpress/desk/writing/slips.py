"""What of a line a slip is, so that it can be underlined where it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from lessonpress.desk.http.responses import problem_json
from lessonpress.records import Problem

_QUOTED = re.compile(r"`([^`\n]+)`")
_BRACE = re.compile(r"\{[^{}]*\}|[{}]")
_IN_QUOTES = re.compile(r"\"[^\"]*\"|'[^']*'")
_WORD = re.compile(r"[^\s,\[\]{}()]+")


def slip_json(problem: Problem) -> dict[str, Any]:
    """The problem with the words of its line that are to be underlined, and what to put in their place."""
    slip = slip_of(problem)
    return {**problem_json(problem), "slip": slip, "instead": list(_instead(slip, problem))}


def _instead(slip: str, problem: Problem) -> Iterator[str]:
    """The slip with each name that is near in the place of the wrong one, braces and forms kept."""
    wrong = next((one for one in _QUOTED.findall(problem.wrong) if one in slip), None)
    if wrong is None:
        return
    for near in problem.nearest:
        yield near if near.startswith("{") else slip.replace(wrong, near, 1)


def slip_of(problem: Problem) -> str:
    """The piece of the source line that begins at the problem's column.

    What the message quotes, where that is the piece; else a brace, what is in quotes, a word.
    """
    line = (problem.source_line or problem.location.source).rstrip()
    rest = line[problem.location.column - 1 :]
    if not rest.strip():
        return line.strip()
    for quoted in _QUOTED.findall(problem.wrong):
        if rest.startswith(quoted):
            return str(quoted)
    for pattern in (_BRACE, _IN_QUOTES, _WORD):
        found = pattern.match(rest)
        if found:
            return found[0]
    return rest[0]
