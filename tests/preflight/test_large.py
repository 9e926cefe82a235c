"""Texts made to be slow are looked at in part: what is held against the ledger is bounded."""

from __future__ import annotations

import pytest

from lessonpress.preflight import look_at
from tests.preflight.measured import Written, measured

BACK = ("navel-back: shift of navel, 5.2 in ± 0.6 away from the target, top",)


@pytest.mark.parametrize(
    "body",
    [
        "Look at the navel. " + "It is so. " * 1000 + "It is 4 inches.",
        "The navel " + "went 4 inches and " * 1_000,
        "a " * 4_000 + "inches.",
        "x" + "_" * 5_000 + "y goes 4 inches.",
        "[" * 4_000 + " 4 inches",
        '"The navel goes 4 inches. ' * 1_000,
        "“The navel goes 4 inches. " * 1_000,
        "{navel-back:size} up " * 500,
        "4 in, " * 4_000,
    ],
    ids=["it", "one sentence", "articles", "signs", "brackets", "quotes", "openings", "numbers", "units"],
)
def test_a_text_made_to_be_slow_is_looked_at_and_done_with(body: str) -> None:
    assert len(list(look_at(measured(Written(body, BACK))))) <= 1000


@pytest.mark.parametrize(
    "body",
    [
        "zweihundert" * 2_000 + " Zoll",
        "eineinhalb" * 2_000 + " geht der Nabel 4 Zoll.",
        "fünfund" * 2_000 + "zwanzig Zoll",
        "1.000.000," * 2_000 + " Zoll",
        "z. B. " * 4_000 + "der Nabel geht 4 Zoll.",
        "»Der Nabel geht 4 Zoll. " * 1_000,
        "hilft " * 2_000 + "gegen Rückenschmerzen",
        "halb zwei, " * 2_000,
    ],
    ids=["joined", "halves", "and", "thousands", "full stops", "quotes", "claims", "clocks"],
)
def test_so_is_one_in_a_language_that_joins_its_words(body: str) -> None:
    assert len(list(look_at(measured(Written(body, BACK, language="de"))))) <= 1000
