"""Which keys of a card hold mistakes, and what can still be used of it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from lessonpress.manuscript.clip.card import Card
from lessonpress.manuscript.clip.clip import CARD
from lessonpress.manuscript.fields.written import read_fields, required
from lessonpress.manuscript.text.passage import Passage
from lessonpress.manuscript.yaml.nodes import Mapping, Node, Scalar, compose_yaml
from lessonpress.records import Location, Problem, Problems

STAND_INS = {"video": "-", "view": "face-on", "hand": "right", "source": {"kind": "own"}, "people": []}


@dataclass(frozen=True)
class CardRead:
    """card: None where it makes none. readable: with stand-ins for the required keys that are wrong."""

    node: Node | None
    card: Card | None = None
    readable: Card | None = None


def read_card(passage: Passage, problems: Problems) -> CardRead:
    node = compose_yaml(passage, problems)
    readable = read_fields(Card, node, problems, STAND_INS)
    faulty = faults_of(node, problems.errors, passage.path)
    sound = faulty.isdisjoint({*required(Card), CARD})
    return CardRead(node, readable if sound else None, readable)


def faults_of(node: Node | None, errors: Iterable[Problem], path: str) -> frozenset[str]:
    """Where a clip's mistakes lie: keys of its card, CARD for the whole of it, names of its other files.

    node: the card's. path: the card's. A required key that is not written is a faulty one too.
    """
    keys = [key for key, _ in node.entries] if isinstance(node, Mapping) else []
    starts = [key.location for key in keys]

    def key_at(location: Location) -> str:
        """The outermost key of the card that a location lies under."""
        before = bisect_right(starts, location)
        return keys[before - 1].written if before else CARD

    faults = {
        key_at(error.location)
        if error.location.path == path and keys
        else PurePosixPath(error.location.path).name
        for error in errors
    }
    if isinstance(node, Mapping):
        faults |= required(Card) - set(node.keys)
    return frozenset(faults)


def unanswered(node: Node | None, problems: Problems) -> Problems:
    """The problems of a clip that no lesson uses: questions left open on its card are one warning."""
    asked = dict(_asked(node))
    open_ = [problem for problem in problems.collected if problem.location in asked]
    if not open_:
        return problems
    others = Problems([problem for problem in problems.collected if problem not in open_])
    names = ", ".join(dict.fromkeys(f"`{asked[problem.location]}`" for problem in open_))
    wrong = f"this card's questions are open ({names}), and no lesson uses the clip yet"
    others.warn(open_[0].location, wrong, "answer them before a lesson does")
    return others


def _asked(node: Node | None) -> Iterator[tuple[Location, str]]:
    """The required keys that are on a card without a value, as they are where it was just begun."""
    for key, value in node.entries if isinstance(node, Mapping) else ():
        if key.written in required(Card) and isinstance(value, Scalar) and not value.written:
            yield key.location, key.written
