"""What a rule found: where, what is wrong, how to correct it, and the text that it rests on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from hashlib import sha256
from typing import Literal

from lessonpress.records import Location, Problem

# severe: a reader learns something wrong, or may be hurt. warning: a reader is let down. note: worth a look.
Severity = Literal["error", "severe", "warning", "note"]
SEVERITIES: tuple[Severity, ...] = ("error", "severe", "warning", "note")
_DIGITS = 6  # of the digest in an id; an id is held against the findings of one file only


@dataclass(frozen=True)
class Finding:
    """One thing that an author should look at.

    wrong, right: as in a Problem. said: the text that it rests on; when that changes, an answer is void. It
    is "" for what can be corrected and not answered, such as an error.
    """

    rule: str
    severity: Severity
    location: Location
    wrong: str
    right: str
    said: str

    @property
    def id(self) -> str:
        """The rule and a digest of what was said: what an author writes under `meant`; "" where none may."""
        if not self.said:
            return ""
        digest = sha256(" ".join(self.said.split()).encode("utf-8", "surrogatepass")).hexdigest()
        return f"{self.rule}-{digest[:_DIGITS]}"

    @property
    def problem(self) -> Problem:
        """The finding as the press reports it: a warning, with the way to answer it."""
        answer = f"if it is meant so, write `{self.id}: why` under `meant`" if self.said else ""
        right = "; ".join(part for part in (self.right, answer) if part)
        return Problem(self.location, self.wrong, right, self.location.source, severity="warning")


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Each once, the most severe first, then by file, line and column."""
    return sorted(dict.fromkeys(findings), key=_rank)


def _rank(finding: Finding) -> tuple[int, Location, str]:
    return SEVERITIES.index(finding.severity), finding.location, finding.rule
