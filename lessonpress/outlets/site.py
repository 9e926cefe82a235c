"""The data files, feeds and map of a site."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.outlets import ledger
from lessonpress.outlets.attached import attached
from lessonpress.outlets.feeds import feeds
from lessonpress.outlets.sitemap import sitemap
from lessonpress.pages import links


def outlets(bound: BoundSite) -> Iterator[tuple[str, bytes]]:
    """(path from the output folder, content) of all that leaves the site beside its pages and pictures."""
    for lesson in bound.lessons:
        yield from ledger_files(lesson)
    written = [lesson.lesson for lesson in bound.lessons]
    yield from feeds(bound.site, written)
    yield from sitemap(bound.site, written)
    yield from attached(bound.site)


def ledger_files(lesson: BoundLesson) -> Iterator[tuple[str, bytes]]:
    """The measures of one lesson as data."""
    name, measures = lesson.lesson.name, lesson.measures.values()
    yield links.measures(name, "json"), ledger.as_json(name, measures, lesson.titles)
    yield links.measures(name, "csv"), ledger.as_csv(measures)
