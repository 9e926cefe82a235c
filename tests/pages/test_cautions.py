from __future__ import annotations

import pytest

from lessonpress.figures.plates import BoundLesson
from lessonpress.pages.cautions import needed
from lessonpress.pages.theme import Theme
from tests.pages import factory

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
