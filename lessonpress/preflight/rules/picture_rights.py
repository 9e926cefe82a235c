"""The same of a picture of the author's own: a consent or a licence that ends within a quarter of a year."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.rules.rights_ending import ending
from lessonpress.preflight.subjects import StillSubject

NAME = "picture-rights"
SEVERITY: Severity = "note"
LOOKS_AT: LooksAt = "still"


def find(subject: StillSubject) -> Iterator[Finding]:
    yield from ending(subject.card, subject.today, NAME, "picture")
