"""A clip that no lesson shows: it is kept, asked for consent and grown old for nothing."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import ClipSubject
from lessonpress.records import Location

NAME = "unused-clip"
SEVERITY: Severity = "note"
LOOKS_AT: LooksAt = "clip"


def find(subject: ClipSubject) -> Iterator[Finding]:
    if not subject.lessons:
        wrong = f"no lesson shows the clip `{subject.clip.name}`"
        right = "show it, or move its folder out of the site"
        yield Finding(NAME, SEVERITY, Location(subject.clip.path), wrong, right, subject.clip.name)
