"""What a card and the marks of its clip say of each other."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.manuscript.card import Card
from lessonpress.manuscript.marks import LOOKS_LIKE, Marks, hint
from lessonpress.records.problem import Place, Problems, nearest


def check_marks(card: Card | None, hand: Marks, tracked: Marks, problems: Problems, *, whole: bool) -> None:
    """Warn of names that look misspelt, and of marks that the card counts on and nobody placed.

    whole: whether all that was written could be read; otherwise nobody can say what was not placed.
    """
    named = list(_named(card)) if card else []
    own = {mark for mark, _ in named} | (card.middles.keys() if card else set())
    for name, place in (tracked.names | hand.names).items():
        hint(name, place, card.hand if card else None, own, problems)
    placed = {*hand.names, *tracked.names}
    if card is None or not placed:
        return
    known = placed | card.middles.keys()
    told: set[str] = set()
    for mark, place in named:
        if whole and mark not in known and mark not in told:
            told.add(mark)
            near = nearest(mark, known, cutoff=LOOKS_LIKE)
            problems.warn(
                place, f"`{mark}` is placed nowhere in this clip", "place it in marks.yaml", nearest=near
            )
    for name in card.middles.keys() & placed:
        where = card.node.get("middles") if card.node else None
        at = (
            where.key_place(name)
            if where is not None and hasattr(where, "key_place")
            else card.place_of("middles")
        )
        problems.error(
            at, f"`{name}` is both a middle and a mark placed by hand", "choose another name for one"
        )


def _named(card: Card) -> Iterator[tuple[str, Place]]:
    """The marks that a card names for room, scale, plumb and lens's lines, with their places."""
    for at, mark in enumerate(card.room):
        yield mark, card.place_of("room", at)
    for number, scale in enumerate(card.scale):
        kind = type(scale).__name__.lower()
        for at, mark in enumerate(getattr(scale, kind)):
            yield mark, card.place_of("scale", number, kind, at)
    for number, pair in enumerate(card.plumb):
        for at, mark in enumerate(pair):
            yield mark, card.place_of("plumb", number, at)
    for key in ("straight", "grid"):
        for number, line in enumerate(getattr(card.lens, key, ())):
            for at, mark in enumerate(line):
                yield mark, card.place_of("lens", key, number, at)
