"""A consent or a licence that ends within a quarter of a year; the press itself warns of the last month."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from lessonpress.manuscript import SOON, Card, StillCard
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
    if card is not None and subject.lessons:
        yield from ending(card, subject.today, NAME, "clip")


def ending(card: Card | StillCard, today: date, rule: str, of: str) -> Iterator[Finding]:
    """What ends on a card before long. of: what the card is of."""
    for what, until, location in _ends(card):
        if SOON < until - today <= AHEAD:
            wrong = f"{what} ends on {until}, in {(until - today).days} days"
            right = f"ask again, or plan what takes the {of}'s place"
            yield Finding(rule, SEVERITY, location, wrong, right, f"{what} {until}")


def _ends(card: Card | StillCard) -> Iterator[tuple[str, date, Location]]:
    for number, person in enumerate(card.people):
        if person.until is not None:
            yield f"the consent of {person.name}", person.until, card.location_of("people", number, "until")
    if card.source.until is not None:
        yield "the licence", card.source.until, card.location_of("source", "until")
