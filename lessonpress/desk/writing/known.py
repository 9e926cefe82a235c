"""What a site has that may be named in a lesson's text."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from lessonpress.desk.views.lessonnumbers import numbers_of_lessons
from lessonpress.figures import BoundLesson, SurveyedClip
from lessonpress.manuscript import Lesson, Site


@dataclass(frozen=True)
class Known:
    """site: with the lesson as it is typed. lesson: that one, None where its front matter makes none.

    film: a clip ready for figures, None where its card cannot be used. bound: the lesson bound to its clips,
    its tempo among its measures; both are asked for only where they are needed.
    """

    site: Site
    lesson: Lesson | None
    film: Callable[[str], SurveyedClip | None]
    bound: Callable[[], BoundLesson | None]

    def clips_at(self, named: Iterable[str]) -> tuple[SurveyedClip, ...]:
        """The clips that a figure names, else the lesson's own."""
        names = [name for name in dict.fromkeys(named) if name in self.site.clips]
        if not names and self.lesson is not None and self.lesson.clip in self.site.clips:
            names = [self.lesson.clip]
        return tuple(film for name in names if (film := self.film(name)) is not None)

    def measures_of_lessons(self) -> Mapping[str, tuple[str, ...]]:
        """The ids that lessons give to numbers, with the names of those lessons."""
        return numbers_of_lessons(self.site.lessons)
