"""Whether two cards can be of swings of one golfer, with one club and on one day, or of one swing."""

from __future__ import annotations

from lessonpress.manuscript import Card
from lessonpress.records import Location

UNLIKE_STATURE = 0.06  # m: more than two statements of one stature differ (each u 2 cm)
ELSEWHERE = "posture and ball are elsewhere with another"
UNLIKE_CLUB = 0.03  # m: more than two measurements of one club with a tape do (each u 1 cm)


def place_of_swing(card: Card, name: str) -> Location:
    """Where a card names a clip among its other swings."""
    return card.location_of("other_swing", card.other_swing.index(name))


def unlike(card: Card, other: Card, name: str) -> tuple[str, str] | None:
    """What tells that another clip cannot serve for this golfer's swings, and what would be right."""
    mine, theirs = ({person.name for person in one.people} for one in (card, other))
    if mine and theirs and not mine & theirs:
        wrong = f"{name} shows {_listed(theirs)}, and this clip {_listed(mine)}"
        return wrong, "name a clip of the same golfer, or correct `people` on a card"
    if card.stature and other.stature and abs(card.stature.metres - other.stature.metres) > UNLIKE_STATURE:
        wrong = f"the golfer of {name} is {other.stature} tall, and this one {card.stature}"
        return wrong, "name a clip of the same golfer, or correct `stature` on a card"
    if card.implement and other.implement and card.implement.casefold() != other.implement.casefold():
        wrong = f"{name} shows a swing with {other.implement}, and this clip one with {card.implement}"
        return wrong, f"name a swing with the same club: {ELSEWHERE}"
    wrong = _clubs(card, other, name)
    if wrong:
        return wrong, f"name a swing with the same club, or correct `implement_length` on a card: {ELSEWHERE}"
    if card.filmed_on and other.filmed_on and card.filmed_on != other.filmed_on:
        wrong = f"{name} was filmed on {other.filmed_on}, and this clip on {card.filmed_on}"
        return wrong, "name a swing of the same day: how much swings of two days differ is not known"
    return None


def another_club(card: Card, other: Card, name: str) -> tuple[str, str] | None:
    """What tells that two clips of one swing state clubs of two lengths, and what would be right."""
    wrong = _clubs(card, other, name)
    return (wrong, "one swing has one club: correct `implement_length` on a card") if wrong else None


def _clubs(card: Card, other: Card, name: str) -> str:
    mine, theirs = card.implement_length, other.implement_length
    if mine is None or theirs is None or abs(mine.metres - theirs.metres) <= UNLIKE_CLUB:
        return ""
    return f"the club of {name} is {theirs} long, and that of this clip {mine}"


def _listed(names: set[str]) -> str:
    return " and ".join(sorted(names))
