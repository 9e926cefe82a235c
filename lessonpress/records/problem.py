"""A mistake in what the author wrote, told as an object: where, what is wrong, what would be right."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Literal

Severity = Literal["error", "warning"]


@dataclass(frozen=True, order=True, slots=True)
class Place:
    """A spot in a file of the site: path relative to the site's folder, line and column from 1.

    source: the whole line as written, carried along so that whoever finds a mistake can show it.
    """

    path: str
    line: int = 1
    column: int = 1
    source: str = field(default="", compare=False, repr=False)

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}"


@dataclass(frozen=True)
class Problem:
    """One mistake or warning.

    wrong: what is wrong, in one clause without a full stop. right: what would be right, likewise, or "".
    source_line: the line as written, for the caret. nearest: right names close to the one written.
    """

    place: Place
    wrong: str
    right: str = ""
    source_line: str = ""
    nearest: tuple[str, ...] = ()
    severity: Severity = "error"


@dataclass
class Problems:
    """The collector that all readers report to; nothing is thrown one by one."""

    found: list[Problem] = field(default_factory=list)

    def error(
        self, place: Place, wrong: str, right: str = "", *, source_line: str = "", nearest: Iterable[str] = ()
    ) -> None:
        line = source_line or place.source
        self.found.append(Problem(place, wrong, right, line, tuple(nearest), "error"))

    def warn(
        self, place: Place, wrong: str, right: str = "", *, source_line: str = "", nearest: Iterable[str] = ()
    ) -> None:
        line = source_line or place.source
        self.found.append(Problem(place, wrong, right, line, tuple(nearest), "warning"))

    def extend(self, others: Iterable[Problem]) -> None:
        self.found.extend(others)

    @property
    def errors(self) -> list[Problem]:
        return [problem for problem in self.found if problem.severity == "error"]

    @property
    def warnings(self) -> list[Problem]:
        return [problem for problem in self.found if problem.severity == "warning"]

    def in_order(self) -> list[Problem]:
        """All problems once each, by file, line and column."""
        return sorted(dict.fromkeys(self.found), key=lambda problem: (problem.place, problem.severity))


def nearest(name: str, known: Iterable[str], most: int = 3, cutoff: float = 0.6) -> tuple[str, ...]:
    """Up to `most` known names that look like `name`, nearest first; cutoff: 0 anything, 1 the same only."""
    return tuple(get_close_matches(name[:200], sorted(known), n=most, cutoff=cutoff))


MARGIN = "    "
WIDEST = 96  # columns of a source line that are shown; longer ones are cut round the caret


def tell(problem: Problem) -> str:
    """The printed text of a problem: place, what is wrong; what is right; the line, a caret, near names.

    The one wording, for the terminal and the desk alike. No line ends in a space, the text in no newline.
    """
    kind = "warning: " if problem.severity == "warning" else ""
    right = f"; {problem.right}" if problem.right else ""
    lines = [f"{problem.place}: {kind}{problem.wrong}{right}"]
    source = problem.source_line or problem.place.source
    if source.strip():
        shown, before = _window(source.rstrip(), problem.place.column - 1)
        lines += [MARGIN + shown, MARGIN + _blank(shown[:before]) + "^"]
    if problem.nearest:
        lines.append(f"{MARGIN}near: {', '.join(problem.nearest)}")
    return "\n".join(lines)


def _window(source: str, before: int) -> tuple[str, int]:
    """The part of a source line to show, and how many of its characters stand before the caret."""
    before = min(before, len(source))
    if len(source) <= WIDEST:
        return source, before
    first = max(0, min(before - WIDEST // 2, len(source) - WIDEST))
    head, tail = "…" if first else "", "…" if first + WIDEST < len(source) else ""
    return head + source[first : first + WIDEST] + tail, before - first + len(head)


def _blank(text: str) -> str:
    """Spaces as wide as the text on a terminal: tabs stay tabs, wide characters take two, marks none."""
    return "".join(_blank_for(character) for character in text)


def _blank_for(character: str) -> str:
    if character == "\t":
        return "\t"
    if unicodedata.combining(character):
        return ""
    return "  " if unicodedata.east_asian_width(character) in "WF" else " "
