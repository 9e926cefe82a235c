"""Whether two cards can be of swings of one golfer."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from lessonpress.figures.bind.likeness import another_club, unlike
from lessonpress.manuscript import Card, Person, Source
from lessonpress.records import Length


def card(**keys: Any) -> Card:
    return Card(
        **{"video": "a.mp4", "view": "face-on", "hand": "right", "source": Source(kind="own"), "people": ()}
        | keys
    )


def person(name: str) -> Person:
    return Person(name=name, consent="written")


UNLIKE: list[tuple[dict[str, Any], dict[str, Any], str]] = [
    (
        {"people": (person("Dune"), person("Marram"))},
        {"people": (person("Shingle"),)},
        "later shows Shingle, and this clip Dune and Marram",
    ),
    (
        {"stature": Length(1.80, "1.80 m")},
        {"stature": Length(1.65, "1.65 m")},
        "the golfer of later is 1.65 m tall, and this one 1.80 m",
    ),
    (
        {"implement": "7-iron"},
        {"implement": "driver"},
        "later shows a swing with driver, and this clip one with 7-iron",
    ),
    (
        {"implement_length": Length(0.94, "37 in")},
        {"implement_length": Length(0.89, "35 in")},
        "the club of later is 35 in long, and that of this clip 37 in",
    ),
    (
        {"filmed_on": date(2026, 10, 12)},
        {"filmed_on": date(2026, 10, 19)},
        "later was filmed on 2026-10-19, and this clip on 2026-10-12",
    ),
]


@pytest.mark.parametrize(("mine", "theirs", "wrong"), UNLIKE, ids=[wrong for *_, wrong in UNLIKE])
def test_what_cannot_be_the_same_golfers_swing_says_so(
    mine: dict[str, Any], theirs: dict[str, Any], wrong: str
) -> None:
    found = unlike(card(**mine), card(**theirs), "later")
    assert found is not None and found[0] == wrong
    assert unlike(card(**mine), card(**mine), "later") is None
    assert unlike(card(**mine), card(), "later") is None  # what a card does not say contradicts nothing
    assert unlike(card(), card(**theirs), "later") is None


def test_two_statements_of_one_stature_and_one_name_of_several_are_alike() -> None:
    mine = card(stature=Length(1.80, "1.80 m"), people=(person("Dune"), person("Marram")), implement="7-Iron")
    theirs = card(stature=Length(1.85, "1.85 m"), people=(person("Dune"),), implement="7-iron")
    assert unlike(mine, theirs, "later") is None


def test_two_clips_of_one_swing_have_one_club_but_for_how_it_is_measured() -> None:
    mine, nearly, shorter = (card(implement_length=Length(m, f"{m} m")) for m in (0.94, 0.965, 0.89))
    assert another_club(mine, nearly, "along") is None
    assert another_club(mine, card(), "along") is None
    found = another_club(mine, shorter, "along")
    assert found is not None and found[0] == "the club of along is 0.89 m long, and that of this clip 0.94 m"
