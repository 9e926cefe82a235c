"""Checks of the marks that a card names against those placed in its clip."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lessonpress.manuscript.clip.card import Card
from lessonpress.manuscript.clip.clip import CARD, MARK_FILES, MARKS
from lessonpress.manuscript.clip.marks import LOOKS_LIKE, Marks, hint
from lessonpress.manuscript.yaml.nodes import Mapping
from lessonpress.records import Location, Problem, Problems, nearest


@dataclass(frozen=True)
class MarkNames:
    """The marks of a clip. card: its path. faults: see Clip. used: whether a lesson takes figures from it."""

    card: str
    hand: Marks
    tracked: Marks
    faults: frozenset[str]
    used: bool

    @property
    def names(self) -> dict[str, Location]:
        return self.tracked.names | self.hand.names


def check_marks(card: Card | None, marks: MarkNames, problems: Problems) -> None:
    """Report names that look misspelt, and marks that the card counts on and that are placed nowhere.

    Such a mark is an error where a lesson's numbers rest on it. card: None where nothing of it can be read.
    """
    named = list(_named(card)) if card else []
    own = {mark for mark, _ in named} | (card.middles.keys() if card else set())
    hand = card.hand if card and "hand" not in marks.faults else None
    named_in_vain = Problems()
    if card is not None and marks.faults.isdisjoint(MARK_FILES):
        _check_placed(card, named, marks, named_in_vain)
    problems.extend(named_in_vain.collected)
    likely = {
        name for problem in named_in_vain.collected for name in problem.nearest
    }  # of what the card means
    for name, location in marks.names.items():
        if name not in likely:
            hint(name, location, hand, own, problems)
    if card is None:
        return
    for name in card.middles.keys() & marks.names.keys():
        where = card.node.get("middles") if card.node else None
        at = where.key_location(name) if isinstance(where, Mapping) else card.location_of("middles")
        problems.error(
            at, f"`{name}` is both a middle and a mark placed by hand", "choose another name for one"
        )


def _check_placed(
    card: Card, named: list[tuple[str, Location]], marks: MarkNames, problems: Problems
) -> None:
    known = marks.names.keys() | card.middles.keys()
    if not marks.names:
        if marks.used and named:
            problems.extend([nothing_placed(marks.card)])
        return
    reported: set[str] = set()
    of_the_room = {card.location_of("room", at) for at in range(len(card.room))}
    resting = {mark for mark, location in named if location not in of_the_room}
    for mark, location in named:
        if mark in known or mark in reported:
            continue
        reported.add(mark)
        near = nearest(mark, known, cutoff=LOOKS_LIKE)
        report = problems.error if marks.used and mark in resting else problems.warn
        report(location, f"`{mark}` is placed nowhere in this clip", "place it in marks.yaml", nearest=near)


def check_none_suggested(hand: Marks, problems: Problems) -> None:
    """Report each suggested mark of a site that allows none."""
    for seen in hand.observations:
        if seen.suggested:
            wrong = f"`{seen.mark}` at frame {seen.frame} was suggested, and site.yaml says `suggested: no`"
            right = "place it by hand, or take it out"
            problems.error(hand.locations[seen.mark, seen.frame], wrong, right, cause="suggested marks")


def nothing_placed(card: str) -> Problem:
    """What is wrong with a clip whose marks a lesson rests on and that has none. card: the card's path."""
    wrong = "no mark is placed on this clip: its marks.yaml is empty or not there"
    right = "place its marks at the desk, or write `navel:` and below it `  12: [640.2, 401.0]`"
    return Problem(Location(card.replace(CARD, MARKS)), wrong, right)


def _named(card: Card) -> Iterator[tuple[str, Location]]:
    """The marks that a card names for scale, plumb, lens's lines, middles and room, with their locations."""
    for number, scale in enumerate(card.scale):
        kind = type(scale).__name__.lower()
        for at, mark in enumerate(getattr(scale, kind)):
            yield mark, card.location_of("scale", number, kind, at)
    for number, pair in enumerate(card.plumb):
        for at, mark in enumerate(pair):
            yield mark, card.location_of("plumb", number, at)
    for key in ("straight", "grid"):
        for number, line in enumerate(getattr(card.lens, key, ())):
            for at, mark in enumerate(line):
                yield mark, card.location_of("lens", key, number, at)
    for name, marks in card.middles.items():
        for at, mark in enumerate(marks):
            yield mark, card.location_of("middles", name, at)
    for at, mark in enumerate(card.room):
        yield mark, card.location_of("room", at)
