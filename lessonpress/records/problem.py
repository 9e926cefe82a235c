"""A mistake in what the author wrote, as an object: where, what is wrong, what would be right."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import Literal, TypedDict, Unpack

Severity = Literal["error", "warning"]


@dataclass(frozen=True, order=True, slots=True)
class Location:
    """A spot in a file of the site: path relative to the site's folder, line and column from 1.

    source: the whole line as written, carried along so that a mistake can be shown where it is found.
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
    more: how many of the same kind in the same file this one speaks for in a list that is cut short.
    cause: the same for all problems of a file that one slip may bring about, any of which says what is wrong;
    "" for a problem by itself. also: the lines of others of its cause that it speaks for in a list.
    """

    location: Location
    wrong: str
    right: str = ""
    source_line: str = ""
    nearest: tuple[str, ...] = ()
    severity: Severity = "error"
    more: int = 0
    cause: str = ""
    also: tuple[int, ...] = ()

    @property
    def kind(self) -> tuple[str, Severity, str]:
        """What problems of one file that come of the same slip share: the words without what was written."""
        return self.location.path, self.severity, _WRITTEN.sub("…", self.wrong)


_WRITTEN = re.compile(r"`[^`]*`|[0-9]+")
MOST_OF_A_KIND = 20  # problems of one kind in one file that are listed
MOST = 1000  # problems that are listed of one run


class _More(TypedDict, total=False):
    """What else a problem may say; see Problem."""

    source_line: str
    nearest: Iterable[str]
    cause: str


@dataclass
class Problems:
    """The collector that all readers report to; nothing is thrown one by one."""

    collected: list[Problem] = field(default_factory=list)

    def error(self, location: Location, wrong: str, right: str = "", **more: Unpack[_More]) -> None:
        self._add("error", location, wrong, right, **more)

    def warn(self, location: Location, wrong: str, right: str = "", **more: Unpack[_More]) -> None:
        self._add("warning", location, wrong, right, **more)

    def _add(
        self,
        severity: Severity,
        location: Location,
        wrong: str,
        right: str,
        source_line: str = "",
        nearest: Iterable[str] = (),
        cause: str = "",
    ) -> None:
        line = source_line or location.source
        self.collected.append(Problem(location, wrong, right, line, tuple(nearest), severity, cause=cause))

    def extend(self, others: Iterable[Problem]) -> None:
        self.collected.extend(others)

    @property
    def errors(self) -> list[Problem]:
        return [problem for problem in self.collected if problem.severity == "error"]

    @property
    def warnings(self) -> list[Problem]:
        return [problem for problem in self.collected if problem.severity == "warning"]

    def in_order(self) -> list[Problem]:
        """All problems once each, by file, line and column."""
        return sorted(dict.fromkeys(self.collected), key=lambda problem: (problem.location, problem.severity))

    def by_cause(self) -> list[Problem]:
        """Those in order; of each cause the first error, or else warning, with the lines of the others."""
        causes: dict[object, list[Problem]] = {}
        for problem in self.in_order():
            key = (problem.location.path, problem.cause) if problem.cause else problem
            causes.setdefault(key, []).append(problem)
        kept = [_speaking(problems) for problems in causes.values()]
        return sorted(kept, key=lambda problem: (problem.location, problem.severity))

    def listed(self) -> list[Problem]:
        """Those in order that a reader is shown; the last of a kind that is cut short says how many follow.

        What one slip brings about in a file is one thing to correct, as are a hundred thousand faulty rows.
        """
        ordered = self.by_cause()
        counts = Counter(problem.kind for problem in ordered)
        shown: Counter[tuple[str, Severity, str]] = Counter()
        listed = []
        for problem in ordered:
            shown[problem.kind] += 1
            if shown[problem.kind] < MOST_OF_A_KIND:
                listed.append(problem)
            elif shown[problem.kind] == MOST_OF_A_KIND:
                listed.append(replace(problem, more=counts[problem.kind] - MOST_OF_A_KIND))
        return listed if len(listed) <= MOST else _most(listed)


def _speaking(problems: list[Problem]) -> Problem:
    first = min(problems, key=lambda problem: problem.severity)
    lines = {problem.location.line for problem in problems} - {first.location.line}
    return replace(first, also=tuple(sorted(lines)))


def _most(listed: list[Problem]) -> list[Problem]:
    """As many as are listed of one run, errors before warnings; the last speaks for those left out."""
    kept = sorted(listed, key=lambda problem: problem.severity)[:MOST]
    left = sum(1 + problem.more for problem in listed) - sum(1 + problem.more for problem in kept)
    kept.sort(key=lambda problem: (problem.location, problem.severity))
    last = Problem(Location(kept[-1].location.path), "the list ends here", "correct these first", more=left)
    return [*kept, last]


def nearest(name: str, known: Iterable[str], most: int = 3, cutoff: float = 0.6) -> tuple[str, ...]:
    """Up to `most` known names that look like `name`, nearest first; cutoff: 0 anything, 1 the same only."""
    return tuple(get_close_matches(name[:200], sorted(known), n=most, cutoff=cutoff))


MARGIN = "    "
WIDEST = 96  # columns of a source line that are shown; longer ones are cut round the caret


def problem_text(problem: Problem) -> str:
    """The printed text of a problem: location, what is wrong; what is right; the line, a caret, near names.

    The one wording, for the terminal and the desk alike. No line ends in a space, the text in no newline.
    """
    kind = "warning: " if problem.severity == "warning" else ""
    right = f"; {shortened(problem.right)}" if problem.right else ""
    lines = [f"{problem.location}: {kind}{shortened(problem.wrong)}{other_lines(problem)}{right}"]
    source = problem.source_line or problem.location.source
    if source.strip():
        shown, before = _window(source.rstrip(), problem.location.column - 1)
        lines += [MARGIN + shown, MARGIN + _blank(shown[:before]) + "^"]
    if problem.nearest:
        lines.append(f"{MARGIN}near: {', '.join(shortened(name) for name in problem.nearest)}")
    if problem.more:
        lines.append(f"{MARGIN}and {problem.more:,} more of this kind")
    return "\n".join(lines)


def other_lines(problem: Problem) -> str:
    """The other lines of its file that a problem is found in, "" where there are none."""
    *before, last = [str(line) for line in problem.also] or [""]
    return f" (also lines {', '.join(before)} and {last})" if before else f" (also line {last})" * bool(last)


LONGEST_WRITTEN = 120  # characters of what an author wrote that a message repeats
LONGEST = 600  # characters of a message


def shortened(text: str) -> str:
    """A message in which what was written is cut in its middle where it is long, and the whole as well."""
    shorter = _QUOTED.sub(lambda quoted: f"`{_cut(quoted[1], LONGEST_WRITTEN)}`", text)
    return _cut(shorter, LONGEST)


_QUOTED = re.compile(r"`([^`]*)`")


def _cut(text: str, most: int) -> str:
    half = most // 2
    return text if len(text) <= most else f"{text[:half]}…{text[-half:]}"


def shown_source(problem: Problem) -> str:
    """The part of the problem's source line that is shown, "" where there is none."""
    source = problem.source_line or problem.location.source
    return _window(source.rstrip(), problem.location.column - 1)[0] if source.strip() else ""


def _window(source: str, before: int) -> tuple[str, int]:
    """The part of a source line to show, and how many of its characters come before the caret."""
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
