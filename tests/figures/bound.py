"""A whole site bound in one go, for tests of what binding says."""

from __future__ import annotations

from collections.abc import Mapping as MappingOf

from lessonpress.figures import (
    Beside,
    SurveyedClip,
    begin_lesson,
    finish_lesson,
    frames_shown,
    survey_clip,
)
from lessonpress.figures.plates import BoundSite
from lessonpress.footage import Study
from lessonpress.manuscript import Site
from lessonpress.records import Problems


def bind_site(site: Site, studies: MappingOf[str, Study]) -> tuple[BoundSite, Problems]:
    """Every lesson bound, with all that is wrong in one collection.

    studies: of the clips in use whose footage could be played; a clip without one has been reported already.
    """
    problems = Problems()
    films: dict[str, SurveyedClip | None] = dict.fromkeys(site.clips)
    for name, study in studies.items():
        beside = _beside(site, name, studies)
        films[name] = survey_clip(site.clips[name], study, site.units, problems, beside=beside)
    begun = {lesson.name: begin_lesson(lesson, site, films, problems) for lesson in site.pressed}
    others = {name: one.bound for name, one in begun.items()}
    bound = [finish_lesson(one, others, site, problems) for one in begun.values()]
    newest_first = tuple(sorted(bound, key=lambda one: (one.lesson.date, one.lesson.name), reverse=True))
    return BoundSite(site, newest_first, frames_shown(newest_first)), problems


def _beside(site: Site, name: str, studies: MappingOf[str, Study]) -> Beside:
    """The clips that a card names for its depths, each surveyed by itself."""
    card = site.clips[name].card
    made = {
        other: survey_clip(site.clips[other], studies[other], site.units, Problems(), plausible=False)
        for other in (card.beside if card else ())
    }
    swings = (made[other] for other in (card.other_swing if card else ()))
    second = made.get(card.second_view or "") if card else None
    return Beside(second, tuple(swing for swing in swings if swing is not None))
