"""A row of the ledger is what the survey found, in the units of print."""

from __future__ import annotations

import pytest

from lessonpress.figures.words.ledger import LedgerEntry, ledger_measure
from lessonpress.measure import At, Measured, Refusal
from lessonpress.records.measure import Budget

ENTRY = LedgerEntry(
    id="navel-back", kind="shift", dimension="length", figure="top", letter="E", clip="dune",
    plane="subject plane, face-on", axis="level", since="setup",
    points=(At("navel", 192), At("c7", 12), At("navel", 12)), name="Shift of the navel", expected=None,
)  # fmt: skip
FOUND = Measured(
    value=-0.1016, dimension="length", uncertainty=0.0127, k=2.0, low=-0.1143, high=-0.0889, axis="level",
    way="away from the target", plane="subject plane, face-on", frames=(12, 192), marks=("navel",),
    assumed=("no roll",), budget=Budget("x", "x", (), "first order"),
)  # fmt: skip


def test_a_number_is_kept_in_inches_with_its_whole_interval() -> None:
    """An inch is 25.4 mm (exactly, 1959): −101.6 mm ± 12.7 are −4 in ± 0.5."""
    row = ledger_measure(ENTRY, FOUND, "in")
    assert (row.value, row.uncertainty, row.low, row.high) == pytest.approx((-4.0, 0.5, -4.5, -3.5))
    assert (row.unit, row.way, row.k) == ("in", "away from the target", 2.0)
    assert (row.frames, row.marks, row.assumed) == ((12, 192), ("navel",), ("no roll",))
    assert (row.id, row.letter, row.figure, row.since) == ("navel-back", "E", "top", "setup")
    assert (row.refused, row.way_out) == (None, None)


def test_the_same_in_centimetres() -> None:
    row = ledger_measure(ENTRY, FOUND, "cm")
    assert (row.value, row.uncertainty, row.unit) == (pytest.approx(-10.16), pytest.approx(1.27), "cm")


def test_a_refused_measure_has_its_reason_and_its_pictures_and_no_number() -> None:
    row = ledger_measure(ENTRY, Refusal("the clip has no scale", "add a known length"), "in")
    assert (row.value, row.uncertainty, row.low, row.high, row.k) == (None,) * 5
    assert (row.refused, row.way_out) == ("the clip has no scale", "add a known length")
    assert (row.frames, row.marks) == ((12, 192), ("navel", "c7"))
    assert (row.way, row.answer, row.budget) == ("", None, None)
