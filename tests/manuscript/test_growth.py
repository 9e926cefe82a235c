"""Reading takes work that grows with what is written, and not with its square."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from lessonpress.manuscript.clip.cardreading import read_card
from lessonpress.manuscript.clip.marks import read_marks
from lessonpress.manuscript.lesson.crowded import MOST_OPENED
from lessonpress.manuscript.lesson.lesson import read_lesson
from lessonpress.manuscript.lesson.page import read_page
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.records.problem import Problems
from tests.growth import MOST_TIMES, calls

FEW, MANY = 200, 800
HEAD = "---\ntitle: T\ndate: 2026-11-01\n---\n\n"
CARD = "video: a.mp4\nview: face-on\nhand: right\nsource: {kind: own}\npeople: []\n"
FRAME = "```frame\nid: f\nat: 3\n"


def _lesson(text: str) -> None:
    read_lesson("a", file_passage("lessons/a.md", HEAD + text), Problems())


def _card(text: str) -> None:
    read_card(file_passage("clips/a/clip.yaml", CARD + text), Problems())


def _marks(text: str) -> None:
    read_marks(file_passage("clips/a/marks.yaml", text), Problems())


CASES: dict[str, tuple[Callable[[str], None], Callable[[int], str]]] = {
    "figures": (_lesson, lambda n: "\n".join(f"```frame\nid: f{i}\nat: {i}\n```\n" for i in range(n))),
    "overlays": (_lesson, lambda n: f"{FRAME}draw:\n" + "  - vertical: navel\n" * n + "```\n"),
    "brackets of a picture": (_lesson, lambda n: "![" * n + "\n"),
    "pictures in pictures": (_lesson, lambda n: "![" * n + "](a.png)" * n + "\n"),
    "braces": (_lesson, lambda n: "{" * n + "\n"),
    "numbers": (_lesson, lambda n: " ".join(f"{{a{i}}}" for i in range(n)) + "\n"),
    "a label full of braces": (
        _lesson,
        lambda n: f'{FRAME}draw:\n  - note: navel\n    text: "{"{" * n}"\n```\n',
    ),
    "a caption full of numbers": (_lesson, lambda n: f'{FRAME}caption: "{"{a} " * n}"\n```\n'),
    "unknown keys of a card": (_card, lambda n: "".join(f"key{i}: 3\n" for i in range(n))),
    "wrong events": (_card, lambda n: "events:\n" + "".join(f"  e{i}: ?\n" for i in range(n))),
    "marks": (_marks, lambda n: "navel:\n" + "".join(f"  {i}: [1, 2]\n" for i in range(n))),
    "wrong marks": (_marks, lambda n: "".join(f"Navel {i}: 3\n" for i in range(n))),
}


@pytest.mark.parametrize("name", CASES)
def test_work_grows_with_what_is_written(name: str) -> None:
    read, written = CASES[name]
    read(written(3))  # what is made once
    few, many = written(FEW), written(MANY)
    assert calls(lambda: read(many)) < MOST_TIMES * calls(lambda: read(few))


@pytest.mark.parametrize("sign", ["[", "{", "![", "{a}"])
@pytest.mark.parametrize("reader", [read_lesson, read_page])
def test_a_text_made_of_brackets_is_refused_where_it_becomes_too_much(sign: str, reader: Any) -> None:
    problems = Problems()
    text = HEAD.replace("date: 2026-11-01\n", "") if reader is read_page else HEAD
    assert reader("a", file_passage("a.md", text + sign * (MOST_OPENED + 1)), problems) is None
    (problem,) = problems.collected
    assert problem.wrong.startswith("the text opens more than 40,000 `")
    assert problem.location.column == MOST_OPENED * len(sign) + sign.index(problem.wrong[-2]) + 1


@pytest.mark.parametrize("text", ["[" * 5000, "{" * 5000, "".join(f"key{i}: 3\n" for i in range(5000))])
def test_what_is_printed_of_many_mistakes_of_a_kind_is_bounded(text: str) -> None:
    """The rest is counted: a list longer than a screen is read by no one."""
    problems = Problems()
    read_card(file_passage("clips/a/clip.yaml", CARD + text), problems)
    read_lesson("a", file_passage("lessons/a.md", HEAD + text), problems)
    listed = problems.listed()
    assert len(listed) < 60
    assert sum(1 + one.more for one in listed) == len(problems.in_order())
