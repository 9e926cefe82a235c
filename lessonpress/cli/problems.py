"""Prints the problems of a site for its author, all in one run; `records.problem` words each of them."""

from __future__ import annotations

import sys
import unicodedata
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import TextIO

from lessonpress.records import Problem, Problems, problem_text

_TURNS_THE_LINE = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


def print_problems(problems: Problems, root: Path, to: TextIO | None = None) -> None:
    """All problems by file, line and column, then how many of each there were."""
    to = to or sys.stderr
    for problem in problems.listed():
        print(printed_problem(problem, root), file=to)
    if problems.collected:
        print(counted(problems.by_cause()), file=to)


def printed_problem(problem: Problem, root: Path) -> str:
    """One problem as printed. root: the site's folder as the author would write it; paths begin there."""
    location = replace(problem.location, path=str(root / problem.location.path))
    return _printable(problem_text(replace(problem, location=location)))


def counted(problems: Iterable[Problem]) -> str:
    """ "2 errors, 1 warning"."""
    severities = [problem.severity for problem in problems]
    counts = [(severities.count("error"), "error"), (severities.count("warning"), "warning")]
    return ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts if count)


def _printable(text: str) -> str:
    """The text with control letters shown as a box, so that no file can steer the author's terminal."""
    return "".join("␣" if _steers(letter) else letter for letter in text)


def _steers(letter: str) -> bool:
    """Whether the letter would move a terminal's cursor, colour it, or turn the line's direction."""
    return (unicodedata.category(letter) == "Cc" and letter not in "\n\t") or letter in _TURNS_THE_LINE
