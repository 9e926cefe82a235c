"""A whole site bound: its clips filmed once, its lessons in order, the frames that its plates show."""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Mapping as MappingOf

from lessonpress.figures.bind.binding import begin_lesson, finish_lesson
from lessonpress.figures.bind.surveyed_clip import SurveyedClip, survey_clip
from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.footage import Study
from lessonpress.manuscript import Lesson, Site, clips_named, in_use
from lessonpress.records import Problems


def clips_in_use(site: Site) -> frozenset[str]:
    """The clips whose footage the site's lessons need."""
    return in_use(site.pressed) & site.clips.keys()


def clips_of(lesson: Lesson, site: Site) -> frozenset[str]:
    """The clips of the site that one lesson's figures are taken from."""
    return clips_named(lesson) & site.clips.keys()


def bind_site(site: Site, studies: MappingOf[str, Study]) -> tuple[BoundSite, Problems]:
    """Every lesson bound, with all that is wrong in one collection.

    studies: of the clips in use whose footage could be played; a clip without one has been reported already.
    """
    problems = Problems()
    films: dict[str, SurveyedClip | None] = dict.fromkeys(site.clips)
    for name, study in studies.items():
        films[name] = survey_clip(site.clips[name], study, site.units, problems)
    begun = {lesson.name: begin_lesson(lesson, site, films, problems) for lesson in site.pressed}
    others = {name: one.bound for name, one in begun.items()}
    bound = [finish_lesson(one, others, site, problems) for one in begun.values()]
    newest_first = tuple(sorted(bound, key=lambda one: (one.lesson.date, one.lesson.name), reverse=True))
    return BoundSite(site, newest_first, frames_shown(newest_first)), problems


def bind_alone(
    lesson: Lesson, site: Site, films: MappingOf[str, SurveyedClip | None], problems: Problems
) -> BoundLesson:
    """One lesson bound by itself: what it follows in other lessons is not there."""
    begun = begin_lesson(lesson, site, films, problems)
    return finish_lesson(begun, {lesson.name: begun.bound}, site, problems)


def frames_shown(lessons: Iterable[BoundLesson]) -> dict[str, frozenset[int]]:
    """By clip, the frames that the lessons' plates show."""
    shown: dict[str, set[int]] = {}
    for lesson in lessons:
        for plate in lesson.plates:
            for panel in (*plate.panels, *(plate.loop.panels if plate.loop else ())):
                shown.setdefault(panel.clip, set()).add(panel.frame)
    return {clip: frozenset(frames) for clip, frames in shown.items()}
