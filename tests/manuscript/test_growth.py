"""Reading takes work that grows with what is written, and not with its square.

Work is counted in calls of functions, Python's and C's, so that no clock and no machine has a part in it.
Four times as much written may take five times the calls; with the square it would be sixteen.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

import pytest

from lessonpress.manuscript.clip.cardreading import read_card
from lessonpress.manuscript.clip.marks import read_marks
from lessonpress.manuscript.lesson.lesson import read_lesson
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.records.problem import Problems

FEW, MANY, MOST_TIMES = 200, 800, 5.0
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
    assert _calls(read, written(MANY)) < MOST_TIMES * _calls(read, written(FEW))


def _calls(read: Callable[[str], None], text: str) -> int:
    calls = 0

    def count(_frame: Any, event: str, _said: Any) -> None:
        nonlocal calls
        calls += event in ("call", "c_call")

    kept = sys.getprofile()
    sys.setprofile(count)
    try:
        read(text)
    finally:
        sys.setprofile(kept)
    return calls
