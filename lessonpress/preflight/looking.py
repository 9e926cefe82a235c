"""Runs the rules of the table over a subject."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.preflight.finding import Finding
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import ClipSubject, LessonSubject, StillSubject, Subject, WrittenSubject
from lessonpress.preflight.table import RULES


def look_at(subject: Subject) -> Iterator[Finding]:
    """What every rule for such a subject finds. A lesson is looked at by its words too."""
    kinds = _kinds(subject)
    for rule in RULES:
        if rule.LOOKS_AT in kinds:
            yield from rule.find(subject)


def _kinds(subject: Subject) -> tuple[LooksAt, ...]:
    if isinstance(subject, LessonSubject):
        return ("written", "lesson")
    if isinstance(subject, WrittenSubject):
        return ("written",)
    if isinstance(subject, StillSubject):
        return ("still",)
    return ("clip",) if isinstance(subject, ClipSubject) else ("pressed",)
