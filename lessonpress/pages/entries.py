"""A lesson as lists show it, in a square of its first plate or in a row of words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lessonpress.figures import BoundLesson
from lessonpress.manuscript import Lesson
from lessonpress.measure import Units
from lessonpress.pages.frame import PageContext
from lessonpress.pages.links import lesson_path
from lessonpress.pages.pictures import emblem, emblem_measure
from lessonpress.pages.plates import Overlaid, thumb
from lessonpress.pages.shown import Shown, shown
from lessonpress.records import Measure


@dataclass(frozen=True)
class LessonEntry:
    """In a list of squares."""

    bound: BoundLesson
    path: str
    thumb: Overlaid | None
    measure: Measure | None
    number: Shown | None


@dataclass(frozen=True)
class LessonRow:
    """In a list of words: nothing but what is printed, so that a mark moved by less prints no list again.

    lesson: its head. named: what its one number is of, "" for a lesson without one.
    """

    lesson: Lesson
    named: str
    number: Shown | None

    @property
    def path(self) -> str:
        return lesson_path(self.lesson.name)


def listed_lessons(lessons: Iterable[BoundLesson]) -> tuple[BoundLesson, ...]:
    """Without those that are pressed and linked from nowhere."""
    return tuple(bound for bound in lessons if bound.lesson.listed)


def lesson_row(lesson: Lesson, measure: Measure | None, units: Units) -> LessonRow:
    """measure: the one number that lists show of it."""
    number = None if measure is None else shown(measure, units)
    return LessonRow(lesson, "" if measure is None or number is None else measure.words, number)


def lesson_entry(bound: BoundLesson, context: PageContext) -> LessonEntry:
    measure, square = emblem_measure(bound), emblem(bound)
    return LessonEntry(
        bound=bound,
        path=lesson_path(bound.lesson.name),
        thumb=None if square is None else thumb(square, context.book, ids_prefix(bound.lesson.name)),
        measure=measure,
        number=None if measure is None else shown(measure, context.bound.site.units),
    )


def ids_prefix(name: str) -> str:
    """What sets the ids in a lesson's square apart from those of the others on the page."""
    return f"square-{name.encode('utf-8').hex() if not name.isascii() else name.replace(' ', '_')}"
