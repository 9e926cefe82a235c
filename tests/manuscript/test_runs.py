"""A lesson's runs are its texts as readers read them, and each word of them knows where it is written."""

from __future__ import annotations

from lessonpress.manuscript import Run, runs_of
from lessonpress.manuscript.lesson.lesson import read_lesson
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.records import Problems

TEXT = """\
---
title: The hub
date: 2026-11-23
summary: "It stays."
---

# One point

A *first* [word](other.md) of `code` and {lean}.

> Quoted.

```frame
id: top
at: top
draw:
  - tilt: [navel, c7]
    as: lean
    label: spine
caption: >-
  The line
  leans {lean}.
```

```caution
Stop on pain.
```
"""


def runs() -> dict[str, Run]:
    lesson = read_lesson("hub", file_passage("lessons/hub.md", TEXT), Problems())
    assert lesson is not None
    return {run.kind: run for run in runs_of(lesson)}


def test_every_kind_of_text_is_a_run() -> None:
    assert list(runs()) == ["title", "summary", "heading", "prose", "quote", "label", "caption", "caution"]


def test_signs_code_and_addresses_are_blanks_of_the_same_length() -> None:
    prose = runs()["prose"]
    assert prose.text == "A  first   word            of        and {lean}."
    assert len(prose.text) == len(prose.written.text)


def test_an_offset_leads_to_line_and_column() -> None:
    found = {kind: str(run.at(run.text.index(word))) for kind, word, run in located()}
    assert found == {
        "title": "lessons/hub.md:2:12",
        "summary": "lessons/hub.md:4:11",
        "prose": "lessons/hub.md:9:4",
        "caption": "lessons/hub.md:22:3",
        "caution": "lessons/hub.md:26:1",
    }


def located() -> list[tuple[str, str, Run]]:
    words = {"title": "hub", "summary": "It", "prose": "first", "caption": "leans", "caution": "Stop"}
    return [(kind, word, runs()[kind]) for kind, word in words.items()]


def test_its_references_have_their_place_in_it() -> None:
    ((start, end, reference),) = runs()["caption"].references()
    assert (start, end, reference.id, str(reference.location)) == (15, 21, "lean", "lessons/hub.md:22:9")
