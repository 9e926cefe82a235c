"""Which products a press must make again, found by presses from nothing and not by what the press kept.

A press from nothing takes nothing over, so what its dockets list was all made for this state of the site. A
product must be made again where, of all that it was made of in the last states that a press still knows, one
thing is another in a press from nothing now. That what is made again and says the same makes nothing else
again follows: the things are compared as they are after, not by whether they were made again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.steps.dockets import Dockets
from lessonpress.press.steps.inputs import Inputs, PressOptions
from lessonpress.press.steps.uses import Key
from lessonpress.press.steps.why import said
from lessonpress.press.steps.works import Works

KNOWN = 2  # states of a product that a press still knows: what was undone is found again
_Made = tuple[tuple[Key, str], ...]


@dataclass(frozen=True)
class Expected:
    """In words. made: what must be made again. may: beside these, of things that are gone.

    products: the hash of each product as made from nothing.
    """

    made: tuple[str, ...]
    may: tuple[str, ...]
    products: dict[Key, set[str]]

    def wrong(self, redone: list[str]) -> str:
        """What was made again without need, and what was not; "" where all is as it must be."""
        needless, missing = _without(redone, [*self.made, *self.may]), _without(self.made, redone)
        told = [f"without need: {needless}"] if needless else []
        return "; ".join([*told, *([f"not made again: {missing}"] if missing else [])])


def products(root: Path) -> dict[Key, set[str]]:
    """The hash of each product in the states of a site that its press knows."""
    known = Dockets.kept(Cache(root / "build" / "cache")).of
    return {key: {docket.product for docket in found} for key, found in known.items()}


def _without(some: list[str] | tuple[str, ...], others: list[str]) -> list[str]:
    """What is left of a list once each of the others is taken out of it."""
    left = list(others)
    return [one for one in some if one not in left or left.remove(one) is not None]  # type: ignore[func-returns-value]


@dataclass
class Oracle:
    """known: of each product, what it was made of in the last states, the newest first.

    rests: what it was made of for the last site that was finished, which a press knows besides.
    """

    known: dict[Key, list[_Made]] = field(default_factory=dict)
    rests: dict[Key, _Made] = field(default_factory=dict)

    def expected(self, bare: Path, *, finished: bool = True, idle: bool = False) -> Expected:
        """For the site at `bare`, which was pressed from nothing; to be asked after each press.

        finished: whether that press made a site. idle: whether it saw that all was as the last site rests on,
        and went through no docket.
        """
        cache = Cache(bare / "build" / "cache")
        dockets = Dockets.kept(cache)
        inputs = Inputs(bare, PressOptions(own_themes=True), FileHashes.kept(cache))
        now = Works(bare, cache, inputs, dockets)
        before = {key: list(known) for key, known in self.known.items()}
        made = list(
            self._other(
                now,
                {key: tuple(dockets.uses.in_order(found[0].made_of)) for key, found in dockets.of.items()},
            )
        )
        self.known = before if idle else self.known
        if finished and not idle:
            self.rests = {key: self.known[key][0] for key in dockets.of}
        return Expected(tuple(map(said, made)), tuple(map(said, now.redone)), products(bare))

    def _other(self, now: Works, made_of: dict[Key, _Made]) -> Iterator[Key]:
        for key, own in made_of.items():
            known = self.known.setdefault(key, [])
            same = next((old for old in known if all(now.sure(one) == hashed for one, hashed in old)), None)
            if same is None:
                yield key
            kept = [old for old in known if old not in (same, own)]
            rested = [old for old in kept[KNOWN - 1 :] if old == self.rests.get(key)]
            self.known[key] = [same or own, *kept[: KNOWN - 1], *rested]
