"""`preflight` looks at a whole site, says what it found and ends with 1 while something severe is left."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from lessonpress.cli.commands import lessonpress
from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.press import preflight, press
from lessonpress.press.progress import Silent
from tests.conftest import Rewrite
from tests.preflight.sites import of_words

LESSON = """\
---
title: Turning
date: 2026-11-23
---

Turn slowly. [The other](../pages/about.md#nowhere) says why.

```drill
Ten turns.
```
"""
ABOUT = """\
---
title: About
---

This swing protects your back.
"""


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return of_words(tmp_path / "notebook", LESSON, ABOUT)


def run(*words: str) -> int:
    try:
        lessonpress(["preflight", *words], standalone_mode=False)
    except SiteProblemsError:
        return 1
    return 0


def test_findings_are_printed_the_most_severe_first_and_the_severe_end_it_with_1(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lesson = site / "lessons" / "turning.md"
    assert run(str(site)) == 1
    lines = [line for line in capsys.readouterr().out.splitlines() if not line.startswith(" ")]
    assert [line.partition("; ")[0] for line in lines if line] == [
        "1 severe:",
        f"{site}/pages/about.md:5:12: `protects your back` is a claim about health without a source",
        "2 warnings:",
        f"{lesson}:6:44: `#nowhere` is nowhere on the page that this leads to",
        f"{lesson}:8:1: this drill has no caution of yours, so the press prints its general one",
        "1 severe, 2 warnings",
    ]
    assert lines[-1].endswith("; 0 answered")


def test_as_json_what_is_answered_comes_with_its_reason(
    site: Path, capsys: pytest.CaptureFixture[str], rewrite: Rewrite
) -> None:
    run(str(site), "--json")
    found = json.loads(capsys.readouterr().out)["findings"]
    assert [(one["rule"], one["severity"], one["line"], one["answered"]) for one in found] == [
        ("health-claim", "severe", 5, None),
        ("dead-link", "warning", 6, None),
        ("caution", "warning", 8, None),
    ]
    for name, one in (("pages/about.md", found[0]), ("lessons/turning.md", found[1])):
        rewrite(site / name, "\n---\n\n", f"\nmeant:\n  {one['id']}: a test\n---\n\n")
    assert run(str(site), "--json") == 0
    found = json.loads(capsys.readouterr().out)["findings"]
    assert {one["rule"]: one["answered"] for one in found} == {
        "caution": None,
        "health-claim": "a test",
        "dead-link": "a test",
    }


def test_an_answer_to_what_is_not_found_is_a_note(site: Path, rewrite: Rewrite) -> None:
    rewrite(site / "lessons" / "turning.md", "\n---\n\n", "\nmeant:\n  caution-000000: a test\n---\n\n")
    (note,) = [one for one in preflight(site, Silent()).open if one.severity == "note"]
    assert str(note.location) == "lessons/turning.md:5:19"
    assert note.wrong.startswith("`caution-000000` answers no finding")


def test_a_press_warns_of_what_is_severe_until_it_is_answered(site: Path, rewrite: Rewrite) -> None:
    out = site / "build" / "site"
    pressed = press(site, out, Silent())
    (warning,) = pressed.problems.collected
    assert pressed.summary is not None and str(warning.location) == "pages/about.md:5:12"
    answer = warning.right.split("`")[1].partition(":")[0]
    rewrite(site / "pages" / "about.md", "\n---\n\n", f"\nmeant: {{{answer}: a test}}\n---\n\n")
    assert press(site, out, Silent()).problems.collected == []


def test_a_warning_of_the_press_itself_can_be_answered_too(site: Path, rewrite: Rewrite) -> None:
    lesson, about = site / "lessons" / "turning.md", site / "pages" / "about.md"
    rewrite(lesson, "Turn slowly.", "Turn on the left heel.")
    rewrite(about, "This swing protects your back.", "Words.")
    (found,) = [one for one in preflight(site, Silent()).open if one.rule == "press"]
    rewrite(lesson, "\n---\n\n", f"\nmeant: {{{found.id}: a test}}\n---\n\n")
    assert press(site, site / "build" / "site", Silent()).problems.collected == []
    assert all(one.rule != "press" for one in preflight(site, Silent()).open)


def test_errors_come_first_and_leave_the_pages_unlooked_at(site: Path, rewrite: Rewrite) -> None:
    rewrite(site / "lessons" / "turning.md", "Turn slowly.", "Turn {turn}.")
    looked = preflight(site, Silent())
    assert [(one.severity, one.rule) for one in looked.open] == [
        ("error", "press"),
        ("severe", "health-claim"),
        ("warning", "caution"),
    ]
    assert looked.open[0].id == ""


@pytest.mark.parametrize(("language", "rules"), [("de-AT", ["health-claim", "range-source"]), ("fr", [])])
def test_the_words_are_those_of_the_sites_language(tmp_path: Path, language: str, rules: list[str]) -> None:
    """Of a language without word lists nothing is asked that needs words."""
    text = "Dieser Schwung schont den Rücken. Die Hüften sollten sich 40 bis 50,5 Grad drehen."
    about = f"---\ntitle: Wer\n---\n\n{text}\n"
    lesson = LESSON.replace("#nowhere", "").replace("```drill\nTen turns.\n```\n", "")
    site = of_words(tmp_path / "notebook", lesson, about, language)
    assert [one.rule for one in preflight(site, Silent()).open] == rules
