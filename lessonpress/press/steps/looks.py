"""Steps of the last look: what preflight finds in a lesson, a page or on the clips, held against its answers.

What is severe and not answered is a warning of the press.
"""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.figures import BoundLesson
from lessonpress.manuscript import Card, Page
from lessonpress.preflight import Answered, LessonSubject, PageSubject, answered, look_at
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import clip_of


def lesson(reader: Reader, name: str) -> Answered:
    """What is found in a lesson bound to its clips."""
    bound: BoundLesson = reader.value("bound", name)
    subject = LessonSubject(
        bound.lesson,
        reader.value("site.yaml", "", "language"),
        bound,
        reader.value("site.yaml", "", "units"),
        dict(_cards(reader, bound)),
        frozenset(reader.value("site.yaml", "", "ranges")),
    )
    return _reported(reader, answered(look_at(subject), bound.lesson))


def _cards(reader: Reader, bound: BoundLesson) -> Iterator[tuple[str, Card]]:
    for facts in bound.clips:
        card = clip_of(reader, facts.clip).card
        if card is not None:
            yield facts.clip, card


def page(reader: Reader, name: str) -> Answered:
    """What is found in the words of a plain page."""
    text: Page | None = reader.value("text", name)
    if text is None:
        return Answered(())
    subject = PageSubject(text, reader.value("site.yaml", "", "language"))
    return _reported(reader, answered(look_at(subject), text))


def _reported(reader: Reader, looked: Answered) -> Answered:
    reader.problems.extend(one.problem for one in looked.open if one.severity == "severe")
    return looked
