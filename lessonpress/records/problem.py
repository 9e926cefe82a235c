"""A mistake in what the author wrote, told as an object: where, what is wrong, what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Literal

Severity = Literal["error", "warning"]


@dataclass(frozen=True, order=True)
class Place:
    """A spot in a file of the site: path relative to the site's folder, line and column from 1."""

    path: str
    line: int = 1
    column: int = 1

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
        self.found.append(Problem(place, wrong, right, source_line, tuple(nearest), "error"))

    def warn(
        self, place: Place, wrong: str, right: str = "", *, source_line: str = "", nearest: Iterable[str] = ()
    ) -> None:
        self.found.append(Problem(place, wrong, right, source_line, tuple(nearest), "warning"))

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


def nearest(name: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Up to `most` known names that look like `name`, nearest first."""
    return tuple(get_close_matches(name, sorted(known), n=most, cutoff=0.6))
