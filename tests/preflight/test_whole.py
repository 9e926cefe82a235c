"""Whole lessons: of planted slips thirty-eight in forty are found, and clean lessons stay unasked."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from lessonpress.preflight import Finding, look_at
from tests.documents import Case, cases_in
from tests.preflight.measured import measured
from tests.preflight.test_rules import LANGUAGES, in_all_languages, printed, written

FOLDER = Path(__file__).parent / "whole"
MOST_MISSED = 2 / 40  # of the planted slips
MOST_FALSE = 1


def found_in(case: Case) -> list[Finding]:
    return list(dict.fromkeys(look_at(measured(written(case)))))


@pytest.mark.parametrize("case", [case for case in in_all_languages(FOLDER) if case.named("slips")], ids=str)
def test_most_of_the_planted_slips_are_found_and_little_else(case: Case) -> None:
    (block,) = case.named("slips")
    planted, found = Counter(block.lines), found_in(case)
    came = Counter(f"{one.location.line} {one.rule}" for one in found)
    missed = sorted((planted - came).elements())
    others = [printed(one) for one in found if f"{one.location.line} {one.rule}" not in planted]
    assert len(missed) <= MOST_MISSED * planted.total(), missed
    assert len(others) <= MOST_FALSE, others


@pytest.mark.parametrize("folder", [FOLDER, *(FOLDER / tag for tag in LANGUAGES)], ids=lambda one: one.name)
def test_a_lesson_has_forty_slips_and_ten_have_none(folder: Path) -> None:
    cases = cases_in(folder)
    assert 40 in [sum(len(block.lines) for block in case.named("slips")) for case in cases]
    assert sum(not case.named("slips") for case in cases) >= 10


CLEAN = [case for case in in_all_languages(FOLDER) if not case.named("slips")]


@pytest.mark.parametrize("case", CLEAN, ids=str)
def test_a_clean_lesson_is_not_asked_about(case: Case) -> None:
    assert [printed(one) for one in found_in(case)] == []
