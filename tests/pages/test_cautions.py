from __future__ import annotations

import pytest

from lessonpress.figures.plates import BoundLesson
from lessonpress.manuscript.lesson.lesson import read_lesson
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.pages.cautions import needed
from lessonpress.pages.theme import Theme
from lessonpress.records import Problems
from tests.pages import factory
from tests.pages.sites import page_of, with_class, words_of

WORDS = Theme.named().words("en")


def written(body: str, *kinds: str) -> BoundLesson:
    blocks = tuple(factory.block(kind, 20 + place) for place, kind in enumerate(kinds))
    return BoundLesson(factory.lesson("one", body, blocks, summary=""), (), {}, {})


def test_a_lesson_with_a_drill_wants_a_caution() -> None:
    assert needed(written("Words.", "drill"), WORDS)


def test_a_lesson_whose_author_wrote_a_caution_wants_no_other() -> None:
    assert not needed(written("It may hurt your back.", "caution", "drill"), WORDS)


def test_a_lesson_about_neither_body_nor_drill_wants_none() -> None:
    assert not needed(written("The pelvis travels, the hub stays."), WORDS)


@pytest.mark.parametrize(
    "sentence",
    [
        "Spare your back.",
        "This eases the lower back.",
        "Back pain has many causes.",
        "If it is painful, stop.",
        "After an injury, go slowly.",
        "It hurts nobody.",
        "Part of a rehabilitation.",
    ],
)
def test_words_about_the_body_call_for_a_caution(sentence: str) -> None:
    assert needed(written(sentence), WORDS)


@pytest.mark.parametrize(
    "sentence",
    ["The club goes back.", "Keep the back foot down.", "On the backswing.", "The back of the hand."],
)
def test_back_as_a_direction_calls_for_none(sentence: str) -> None:
    assert not needed(written(sentence), WORDS)


DRILL = "```drill\nTurn.\n\nTen times.\n```\n"
CAUTION = "```caution\nStop on pain.\n```\n"


@pytest.mark.parametrize(
    ("body", "printed"),
    [
        (CAUTION + DRILL, ["own", "drill"]),
        (f"{DRILL}\n{CAUTION}", ["own", "drill"]),  # written right below it
        (f"{DRILL}\nWords.\n\n{CAUTION}", ["general", "drill", "own"]),
        (f"{DRILL}\n{DRILL}\n{CAUTION}", ["own", "drill", "drill"]),
        (f"{CAUTION}\nWords.\n\n{DRILL}\n{CAUTION}", ["own", "own", "drill"]),
    ],
)
def test_a_drill_is_never_read_before_a_caution(body: str, printed: list[str]) -> None:
    front = "---\ntitle: Turning\ndate: 2026-11-23\n---\n"
    lesson = read_lesson("turning", file_passage("lessons/turning.md", front + body), Problems())
    assert lesson is not None
    boxes = [box for boxes in with_class(page_of(BoundLesson(lesson, (), {}, {})), "boxes") for box in boxes]
    said = ["drill" if box.get("class") == "drill" else words_of(box) for box in boxes]
    assert said == [
        {"drill": "drill", "own": "Caution Stop on pain."}.get(one, f"Caution {WORDS['caution']['text']}")
        for one in printed
    ]
