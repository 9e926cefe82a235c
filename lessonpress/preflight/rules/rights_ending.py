"""A consent or a licence that ends within a quarter of a year; the press itself warns of the last month."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from lessonpress.manuscript import SOON, Card
from lessonpress.preflight.finding import Finding, Severity
from lessonpress.preflight.rule import LooksAt
from lessonpress.preflight.subjects import ClipSubject
from lessonpress.records import Location

NAME = "rights-ending"
SEVERITY: Severity = "note"
LOOKS_AT: LooksAt = "clip"

AHEAD = timedelta(days=90)


def find(subject: ClipSubject) -> Iterator[Finding]:
    card = subject.clip.card
    if card is None or not subject.lessons:
        return
    for what, until, location in _ends(card):
        if SOON < until - subject.today <= AHEAD:
            wrong = f"{what} ends on {until}, in {(until - subject.today).days} days"
            right = "ask again, or plan what takes the clip's place"
            yield Finding(NAME, SEVERITY, location, wrong, right, f"{what} {until}")


def _ends(card: Card) -> Iterator[tuple[str, date, Location]]:
    for number, person in enumerate(card.people):
        if person.until is not None:
            yield f"the consent of {person.name}", person.until, card.location_of("people", number, "until")
    if card.source.until is not None:
        yield "the licence", card.source.until, card.location_of("source", "until")
