"""A lesson as lists show it: a square of its first plate, number, date, title and its one measure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lessonpress.figures import BoundLesson
from lessonpress.pages.frame import PageContext
from lessonpress.pages.links import lesson_path
from lessonpress.pages.pictures import emblem, emblem_measure
from lessonpress.pages.plates import Overlaid, thumb
from lessonpress.pages.shown import Shown, shown
from lessonpress.records import Measure


@dataclass(frozen=True)
class LessonEntry:
    bound: BoundLesson
    path: str
    thumb: Overlaid | None
    measure: Measure | None
    number: Shown | None


def listed_lessons(lessons: Iterable[BoundLesson]) -> tuple[BoundLesson, ...]:
    """Without those that are pressed and linked from nowhere."""
    return tuple(bound for bound in lessons if bound.lesson.listed)


def lesson_entry(bound: BoundLesson, context: PageContext, *, pictured: bool) -> LessonEntry:
    """pictured: with its square; else words alone, as in the archive."""
    measure = emblem_measure(bound)
    square = emblem(bound) if pictured else None
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
