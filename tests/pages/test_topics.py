from __future__ import annotations

from datetime import date

from lessonpress.pages.topics import letters_of, slug_of, topics_of
from tests.pages.factory import bare_lesson


def test_topics_are_under_their_letters_in_the_order_of_the_alphabet() -> None:
    lessons = [bare_lesson("one", topics=("wrist", "angle, kept", "Überblick", "3 o'clock"))]
    letters = letters_of(topics_of(lessons))
    assert [letter.letter for letter in letters] == ["0–9", "A", "U", "W"]


def test_numbers_in_topics_are_in_order_of_their_size() -> None:
    found = topics_of([bare_lesson("one", topics=("frame 10", "frame 9"))])
    assert [topic.name for topic in found] == ["frame 9", "frame 10"]


def test_two_spellings_are_one_topic() -> None:
    lessons = [
        bare_lesson("one", topics=("Hub",), date=date(2026, 1, 1)),
        bare_lesson("two", topics=("hub ",), date=date(2026, 1, 8)),
    ]
    [topic] = topics_of(lessons)
    assert topic.name == "Hub"
    assert [bound.lesson.name for bound in topic.lessons] == ["one", "two"]


def test_topics_that_differ_in_signs_alone_have_folders_of_their_own() -> None:
    slugs = [topic.slug for topic in topics_of([bare_lesson("one", topics=("hip turn", "hip-turn"))])]
    assert sorted(slugs) == ["hip-turn", "hip-turn-2"]


def test_a_topic_in_another_script_keeps_its_letters() -> None:
    assert slug_of("Тазовый сдвиг") == "тазовый-сдвиг"
    assert slug_of("???") == "topic"
