"""Checks of what a card says of rights: what is not enough, and what has ended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from shlex import quote
from typing import Protocol

from lessonpress.manuscript.rights.rights import Person, Source
from lessonpress.records import Location, Problems

SOON = timedelta(days=30)
_MOST_NAMED = 8  # texts that show what has no rights any more


@dataclass(frozen=True)
class Shown:
    """What a card is of, "clip" or "picture", and what it is withdrawn by: its name or its path.

    licensed: what is said to be licensed or quoted. texts: files of those that show it, where its rights have
    ended; else none.
    """

    of: str
    name: str
    licensed: str
    texts: Sequence[str] = ()

    @property
    def taken_back(self) -> str:
        """As a shell reads it."""
        return f"`lessonpress withdraw {quote(self.name)}`"

    @property
    def still_shown(self) -> str:
        """What is added where rights have ended, from a comma on."""
        if not self.texts:
            return ""
        more = len(self.texts) - _MOST_NAMED
        named = ", ".join(self.texts[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
        return f", and {named} {'shows' if len(self.texts) == 1 else 'show'} the {self.of}"


class Carded(Protocol):
    """A card of any kind."""

    @property
    def source(self) -> Source: ...

    @property
    def people(self) -> Sequence[Person]: ...

    def location_of(self, *loc: str | int) -> Location: ...


def rights_ended(card: Carded, today: date) -> bool:
    """Whether a consent or the licence has run out."""
    return any(until < today for until in (card.source.until, *(one.until for one in card.people)) if until)


def check_people(card: Carded, today: date, shown: Shown, problems: Problems) -> None:
    """Report a consent that has ended, ends soon, cannot be, or is not the one that a minor needs."""
    for number, person in enumerate(card.people):
        if person.minor and person.consent != "guardian":
            location = person.location_of("consent")
            wrong = f"{person.name} is a minor, and the consent is {person.consent}"
            problems.error(location, wrong, "a minor needs `consent: guardian`")
        what = f"the consent of {person.name}"
        location = card.location_of("people", number, "until")
        _until(person.until, today, location, (what, "ask again and change the date"), shown, problems)
        if person.given and person.given > today:
            problems.error(
                person.location_of("given"),
                f"{what} is given on a date in the future",
                "write the day it was given",
            )
        if person.given and person.until and person.until < person.given:
            problems.error(
                person.location_of("until"), f"{what} ends before it was given", "correct one of the dates"
            )


def check_source(card: Carded, today: date, shown: Shown, problems: Problems) -> None:
    """Report a source that does not say what its kind needs, and a licence that has ended or ends soon."""
    source, licensed = card.source, shown.licensed
    location = source.location_of("kind")
    if source.kind == "licensed" and not source.licence:
        problems.error(location, f"licensed {licensed} names no licence", "add `licence: …`")
    if source.kind in ("licensed", "quotation") and not source.credit:
        problems.error(location, f"{source.kind} {licensed} names no one to credit", "add `credit: …`")
    if source.kind == "quotation" and not source.reason:
        problems.error(
            location, "a quotation says no reason", "add `reason: …`, the point the lesson makes with it"
        )
    location = card.location_of("source", "until")
    _until(source.until, today, location, ("the licence", "renew it"), shown, problems)


def _until(
    until: date | None,
    today: date,
    location: Location,
    ends: tuple[str, str],
    shown: Shown,
    problems: Problems,
) -> None:
    """ends: what does, and how it is renewed."""
    if until is None:
        return
    what, renewed = ends
    way_out = f"{renewed}, or {shown.taken_back}"
    if until < today:
        problems.error(location, f"{what} ended on {until}{shown.still_shown}", way_out)
    elif until - today <= SOON:
        problems.warn(location, f"{what} ends on {until}", way_out)
