"""Everything that leaves a site beside its pages."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.outlets import ledger
from lessonpress.outlets.diagrams import PictureOf, diagrams
from lessonpress.outlets.feeds import feeds
from lessonpress.outlets.sitemap import sitemap
from lessonpress.pages import links


def outlets(bound: BoundSite, picture_of: PictureOf) -> Iterator[tuple[str, bytes]]:
    """(path from the output folder, content) of every data file, diagram, feed and map of the site."""
    for lesson in bound.lessons:
        yield from _ledger(lesson)
        yield from diagrams(lesson, bound.site.units, picture_of)
    written = [lesson.lesson for lesson in bound.lessons]
    yield from feeds(bound.site, written)
    yield from sitemap(bound.site, written)


def _ledger(lesson: BoundLesson) -> Iterator[tuple[str, bytes]]:
    name, measures = lesson.lesson.name, lesson.measures.values()
    yield links.measures(name, "json"), ledger.as_json(name, measures)
    yield links.measures(name, "csv"), ledger.as_csv(measures)
