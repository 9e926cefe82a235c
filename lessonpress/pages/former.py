"""Redirects from the earlier paths of a lesson to where it is now."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.manuscript import Lesson, file_at
from lessonpress.pages.frame import PageContext
from lessonpress.pages.links import lesson_path


def former_pages(lesson: Lesson, context: PageContext) -> Iterator[tuple[str, bytes]]:
    """One for each earlier path. Any static host serves them: they need no setting of the host's own."""
    to = lesson_path(lesson.folder)
    for path in map(file_at, lesson.former):
        yield path, context.page("former.html", path, title=lesson.title, to=to, now=context.address(to))
