"""Every rule's document: what is written, and what is found of it or must not be.

A case is a heading, a block of four backticks with the lesson's body, which begins in line 6 of its file, a
block `ledger` with its measures (`measured.py` says how), and a text block with each finding: its line and
column, its severity, what is wrong. A block `front` before it is the front matter in place of the usual one;
a block `card` says what the clip's card has besides. Each document is called after its rule and holds that
rule's findings alone. The folders are listed, so no rule can be forgotten: documents in English lie in
`rules`, those of another language in a folder of it that is called by its tag.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.manuscript.clip.card import Card
from lessonpress.manuscript.fields.written import read_fields
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.manuscript.yaml.nodes import compose_yaml
from lessonpress.preflight import Finding, in_order, look_at
from lessonpress.preflight.reading.wordlist import word_list
from lessonpress.preflight.rules import expected_range
from lessonpress.preflight.table import RULES
from lessonpress.records import Problems
from tests.documents import Case, Holds, cases_in
from tests.preflight.measured import FRONT, Written, measured

FOLDER = Path(__file__).parent / "rules"
LANGUAGES = ("de",)
CARD = """\
video: dune.mp4
view: face-on
hand: right
source: {kind: own, credit: Drawn}
people: []
"""
SCALE = "scale:\n  - {between: [stick-top, stick-foot], length: 36 in, within: 0.1 in}\n"
OF_LESSONS = [rule for rule in RULES if rule.LOOKS_AT in ("written", "lesson")]


def in_all_languages(folder: Path) -> list[Case]:
    """The cases of a folder and of the folders of languages in it."""
    return [*cases_in(folder), *(case for tag in LANGUAGES for case in cases_in(folder / tag))]


@pytest.mark.parametrize("case", in_all_languages(FOLDER), ids=str)
def test_a_rule_finds_what_its_document_says(case: Case, holds: Holds) -> None:
    (told,) = case.named("text")
    found = [one for one in in_order(look_at(measured(written(case)))) if one.rule == case.path.stem]
    holds(told, "\n".join(map(printed, found)))


def written(case: Case) -> Written:
    """The lesson of a case."""
    (body,) = [block for block in case.blocks if not block.words]
    ledger = tuple(line for block in case.named("ledger") for line in block.lines)
    front = "".join(f"{block.text}\n" for block in case.named("front"))
    more = "".join(f"{block.text}\n" for block in case.named("card"))
    folder = case.path.parent.name
    language = folder if folder in LANGUAGES else "en"
    return Written(body.text, ledger, front or FRONT, card(more or SCALE), language)


def card(more: str) -> Card:
    problems = Problems()
    made = read_fields(
        Card, compose_yaml(file_passage("clips/dune/clip.yaml", CARD + more), problems), problems
    )
    assert made is not None, problems.collected
    return made


def printed(one: Finding) -> str:
    return f"{one.location.line}:{one.location.column} {one.severity}: {one.wrong}"


def has_words(rule: object) -> bool:
    """Whether what a rule finds depends on the language."""
    return rule not in (expected_range,)


@pytest.mark.parametrize("folder", [FOLDER, *(FOLDER / tag for tag in LANGUAGES)], ids=lambda one: one.name)
@pytest.mark.parametrize("rule", OF_LESSONS, ids=lambda rule: rule.NAME)
def test_a_rule_has_a_document_of_what_it_finds_and_of_what_it_must_not(folder: Path, rule: object) -> None:
    if folder != FOLDER and not has_words(rule):
        return
    cases = [case for case in cases_in(folder) if case.path.stem == rule.NAME]  # type: ignore[attr-defined]
    found = [bool(case.named("text")[0].text) for case in cases]
    assert True in found and False in found


def test_each_language_has_all_word_lists_and_says_the_same_things_in_them() -> None:
    """Tables by marks, kinds and events have the same keys; those by how something is said have their own."""
    english = word_list("en")
    assert english is not None
    for tag in LANGUAGES:
        words = word_list(f"{tag}-CH")
        assert words is not None
        assert words.lists.keys() == english.lists.keys()
        for name in ("marks", "kinds", "sides", "lines", "events", "ways", "near", "of_day"):
            assert words.lists[name].keys() == english.lists[name].keys(), name
