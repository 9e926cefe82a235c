"""What is asked of bound lessons as a whole: their clips, the frames that their plates show."""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Mapping as MappingOf

from lessonpress.figures.bind.binding import begin_lesson, finish_lesson
from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.figures.plan.planned import Planned
from lessonpress.figures.plan.planning import plan
from lessonpress.figures.plates import BoundLesson
from lessonpress.manuscript import Lesson, Site, clips_named
from lessonpress.records import Problems


def clips_of(lesson: Lesson, site: Site) -> frozenset[str]:
    """The clips of the site that one lesson's figures are taken from."""
    return clips_named(lesson) & site.clips.keys()


def bind_alone(
    lesson: Lesson, site: Site, films: MappingOf[str, SurveyedClip | None], problems: Problems
) -> BoundLesson:
    """One lesson bound by itself: what it follows in other lessons is not there."""
    begun = begin_lesson(lesson, site, films, problems)
    return finish_lesson(begun, {lesson.name: begun.bound}, site, problems)


def planned_figures(
    lesson: Lesson, site: Site, films: MappingOf[str, SurveyedClip | None]
) -> tuple[Planned, ...]:
    """A lesson's figures as planned; what is wrong with them is reported where the lesson is bound."""
    return plan(lesson, site, films, Problems())[0]


def frames_shown(lessons: Iterable[BoundLesson]) -> dict[str, frozenset[int]]:
    """By clip, the frames that the lessons' plates show."""
    shown: dict[str, set[int]] = {}
    for lesson in lessons:
        for plate in lesson.plates:
            for panel in (*plate.panels, *(plate.loop.panels if plate.loop else ())):
                shown.setdefault(panel.clip, set()).add(panel.frame)
    return {clip: frozenset(frames) for clip, frames in shown.items()}
