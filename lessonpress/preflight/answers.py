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
from lessonpress.records import Location

RULE = "answer-left-over"


class Answering(Protocol):
    """The head of a file that can hold answers."""

    @property
    def meant(self) -> Meant: ...

    def location_of(self, *loc: str | int) -> Location: ...


@dataclass(frozen=True)
class Answered:
    """open: findings without an answer. settled: those with one, each with the author's reason."""

    open: tuple[Finding, ...]
    settled: tuple[tuple[Finding, str], ...] = ()


def answered(findings: Iterable[Finding], head: Answering) -> Answered:
    """The findings of one file, parted by whether its head answers them."""
    found = list(dict.fromkeys(findings))
    settled = tuple((one, head.meant[one.id]) for one in found if one.id in head.meant)
    left = [one for one in found if one.id not in head.meant]
    known = {one.id for one in found}
    left += [_left_over(name, head) for name in head.meant if name not in known]
    return Answered(tuple(left), settled)


def _left_over(name: str, head: Answering) -> Finding:
    wrong = f"`{name}` answers no finding: its text has changed, or was corrected"
    return Finding(RULE, "note", head.location_of("meant", name), wrong, "take the line out", name)
