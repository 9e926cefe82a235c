"""A whole site page by page, out of memory: the pages as the press's steps make them, one after another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.pages.archive import (
    SQUARES,
    archive_page,
    archived_years,
    topic_page,
    topics_index,
    year_page,
)
from lessonpress.pages.card import LessonCard
from lessonpress.pages.entries import LessonRow, lesson_row, listed_lessons
from lessonpress.pages.former import former_pages
from lessonpress.pages.frame import PageContext
from lessonpress.pages.home import home_page
from lessonpress.pages.lesson import LessonPage, Neighbours
from lessonpress.pages.lessonbody import fills_a_card
from lessonpress.pages.pictures import PictureBook, emblem_measure
from lessonpress.pages.plain import glossary_page, not_found, plain_page, settings_page
from lessonpress.pages.plates import overlays_of
from lessonpress.pages.theme import Theme
from lessonpress.pages.topics import Topic


def render_site(bound: BoundSite, pictures: PictureBook, theme: Theme) -> Iterator[tuple[str, bytes]]:
    """Every page of the site and the theme's own files, as (path from the output folder, content)."""
    context = PageContext(bound, pictures, theme, theme.words(bound.site.language))
    yield from theme.files.items()
    yield from ((script.path, script.content) for script in theme.scripts.values())
    yield home_page(context)
    years = archived_years(one.lesson.date for one in listed_lessons(bound.lessons))
    yield archive_page(_of_years(context, years.whole), years.older, context)
    yield from (year_page(year, _of_years(context, (year,)), context) for year in years.older)
    yield topics_index(context)
    yield from (topic_page_of(topic, context) for topic in context.topics)
    yield from lesson_pages(context)
    for one in bound.lessons:
        yield from former_pages(one.lesson, context)
    yield from (plain_page(page, context) for page in bound.site.pages.values())
    yield glossary_page(context)
    yield settings_page(context)
    yield not_found(context)


def _of_years(context: PageContext, years: tuple[int, ...]) -> list[LessonRow]:
    shown = listed_lessons(context.bound.lessons)
    return rows_of(context, (one for one in shown if one.lesson.date.year in years))


def topic_page_of(topic: Topic, context: PageContext) -> tuple[str, bytes]:
    before, newest = topic.lessons[:-SQUARES], topic.lessons[-SQUARES:]
    return topic_page(replace(topic, lessons=newest), rows_of(context, reversed(before)), context)


def rows_of(context: PageContext, lessons: Iterable[BoundLesson]) -> list[LessonRow]:
    units = context.bound.site.units
    return [lesson_row(one.lesson, emblem_measure(one), units) for one in lessons]


def lesson_pages(context: PageContext) -> Iterator[tuple[str, bytes]]:
    """One page for each lesson, the unlisted ones among them."""
    shown = listed_lessons(context.bound.lessons)
    places = {bound.lesson.name: place for place, bound in enumerate(shown)}
    for bound in context.bound.lessons:
        overlays = overlays_of(bound.pictured, context.bound.site.units, context.say)
        page = LessonPage(bound, context, overlays)
        yield page.path, page.content(_neighbours(shown, places.get(bound.lesson.name)))
        if fills_a_card(bound):
            card = LessonCard(bound, context)
            yield card.path, card.content()


def _neighbours(shown: tuple[BoundLesson, ...], place: int | None) -> Neighbours:
    """Those next to `place` in lessons that run from the newest; none for a lesson that is not among them."""
    if place is None:
        return Neighbours(None, None)
    before = shown[place + 1] if place + 1 < len(shown) else None
    return Neighbours(before, shown[place - 1] if place else None)
