"""Each Markdown text of a lesson is parsed once, however many ask what it says."""

from __future__ import annotations

from collections import Counter

import pytest
from markdown_it import MarkdownIt

from lessonpress.manuscript.lesson import prose
from lessonpress.manuscript.lesson.lesson import read_lesson
from lessonpress.manuscript.lesson.runs import pictures_in, runs_of
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.records import Problems
from tests.manuscript.test_lesson import TEXT


def test_reading_a_lesson_and_what_it_says_parses_no_text_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = Counter[str]()

    def parse(scanner: MarkdownIt, text: str, whole: object = MarkdownIt.parse) -> object:
        asked[text] += 1
        return whole(scanner, text)  # type: ignore[operator]

    monkeypatch.setattr(MarkdownIt, "parse", parse)
    prose._tokens.cache_clear()
    lesson = read_lesson("pelvis", file_passage("lessons/pelvis.md", TEXT), Problems())
    assert lesson is not None
    before = list(runs_of(lesson)), list(pictures_in(lesson))
    assert before == (list(runs_of(lesson)), list(pictures_in(lesson)))
    assert len(asked) > 2 and set(asked.values()) == {1}
