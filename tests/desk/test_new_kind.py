"""A kind is one module and one row: with that alone it is written, pressed, described and composed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lessonpress.overlays import KINDS
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.desk import brace

LESSON = """\
---
title: Braced
date: 2026-11-23
clip: dune-face-on
---

It is {trunk-brace} long.

```frame
id: braced
at: impact
draw:
  - brace: [navel, c7]
    why: the trunk
    as: trunk-brace
```
"""


@pytest.fixture
def braced(monkeypatch: pytest.MonkeyPatch) -> None:
    """The row."""
    assert isinstance(KINDS, dict)
    monkeypatch.setitem(KINDS, brace.KIND, brace)


def test_a_kind_that_is_not_in_the_table_is_refused(site: Path) -> None:
    (site / "lessons" / "braced.md").write_text(LESSON, encoding="utf-8")
    done = press(site, site / "out", Silent())
    assert "`brace` is not a kind of overlay" in [problem.wrong for problem in done.problems.errors]


def test_a_new_kind_is_pressed_measured_and_described(site: Path, braced: None) -> None:
    (site / "lessons" / "braced.md").write_text(LESSON, encoding="utf-8")
    done = press(site, site / "out", Silent())
    assert done.summary is not None, done.problems.errors
    folder = site / "out" / "lessons" / "braced"
    (entry,) = json.loads((folder / "measures.json").read_text("utf-8"))["measures"]
    assert (entry["id"], entry["kind"]) == ("trunk-brace", "brace")
    page = (folder / "index.html").read_text("utf-8")
    assert "Brace, navel to C7" in page and "holds for the trunk" in page
    assert "holds for the trunk" in (folder / "braced.svg").read_text("utf-8")


def test_a_new_kind_reaches_the_desk_without_a_letter(author: TestClient, braced: None) -> None:
    told = author.get("/api/site").json()["kinds"][-1]
    assert told.items() >= {"kind": "brace", "letter": None, "measures": True, "least": 2, "most": 2}.items()
    assert told["questions"] == [{"key": "why", "words": "Why is it braced?", "usual": "", "mark": False}]
    assert "brace" not in told["keys"] and "why" not in told["keys"] and "placed" in told["keys"]


def test_the_desk_asks_for_every_key_that_a_kind_must_have(author: TestClient) -> None:
    for kind in KINDS.values():
        asked = {kind.KIND, *(question.key for question in kind.Fields.QUESTIONS)}
        fields: dict[str, Any] = kind.Fields.model_fields
        assert {field.alias or key for key, field in fields.items() if field.is_required()} <= asked, (
            kind.KIND
        )


def test_no_two_kinds_have_one_letter_and_none_has_a_key_of_its_own_while_composing() -> None:
    letters = [kind.Fields.LETTER for kind in KINDS.values() if kind.Fields.LETTER is not None]
    assert len(set(letters)) == len(letters)
    assert not set(letters) & set("mnbz"), "pick by name, new lesson, into a lesson, undo"
