"""Findings held against the answers of an author: `meant` in the front matter, or on a card.

An answer names a finding by its rule and the digest of the text that it rests on. So it holds until that text
changes; then the finding is back, and the answer that fits none is a note.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from lessonpress.manuscript import Meant
from lessonpress.preflight.finding import Finding
from lessonpress.records import Location, Problem

RULE = "answer-left-over"
PRESS = "press"  # the rule of what the press reports by itself


class Answering(Protocol):
    """The head of a file that can hold answers."""

    @property
    def meant(self) -> Meant: ...

    def location_of(self, *loc: str | int) -> Location: ...


@dataclass(frozen=True)
class Answered:
    """open: findings without an answer. settled: those with one, each with the author's reason.

    left: the answers that fit none of them; those of other rounds may fit findings of theirs.
    """

    open: tuple[Finding, ...]
    settled: tuple[tuple[Finding, str], ...] = ()
    left: frozenset[str] = frozenset()


def answered(findings: Iterable[Finding], head: Answering) -> Answered:
    """Some of the findings of one file, parted by whether its head answers them."""
    found = list(dict.fromkeys(findings))
    settled = tuple((one, head.meant[one.id]) for one in found if one.id in head.meant)
    unanswered = tuple(one for one in found if one.id not in head.meant)
    return Answered(unanswered, settled, frozenset(head.meant) - {one.id for one in found})


def left_over(names: Iterable[str], head: Answering) -> list[Finding]:
    """The answers of one file that fit none of all its findings."""
    return [
        Finding(
            RULE,
            "note",
            head.location_of("meant", name),
            f"`{name}` answers no finding: its text has changed, or was corrected",
            "take the line out",
            "",
        )
        for name in sorted(names)
    ]


def finding_of(problem: Problem) -> Finding:
    """What the press reports by itself, as a finding; a mistake is corrected and not answered."""
    said = problem.wrong if problem.severity == "warning" else ""
    return Finding(PRESS, problem.severity, problem.location, problem.wrong, problem.right, said)
