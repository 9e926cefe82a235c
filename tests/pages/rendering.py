"""A whole site page by page, out of memory: the pages as the press's steps make them, one after another."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.pages.archive import archive, topic_page, topics_index
from lessonpress.pages.entries import listed
from lessonpress.pages.former import former_pages
from lessonpress.pages.frame import Studio
from lessonpress.pages.home import home
from lessonpress.pages.lesson import LessonPage, Neighbours
from lessonpress.pages.pictures import PictureBook
from lessonpress.pages.plain import not_found, plain_page
from lessonpress.pages.theme import Theme


def render_site(bound: BoundSite, pictures: PictureBook, theme: Theme) -> Iterator[tuple[str, bytes]]:
    """Every page of the site and the theme's own files, as (path from the output folder, content)."""
    studio = Studio(bound, pictures, theme, theme.words(bound.site.language))
    yield from theme.files.items()
    yield home(studio)
    yield archive(studio)
    yield topics_index(studio)
    yield from (topic_page(topic, studio) for topic in studio.topics)
    yield from lesson_pages(studio)
    for one in bound.lessons:
        yield from former_pages(one.lesson, studio)
    yield from (plain_page(page, studio) for page in bound.site.pages.values())
    yield not_found(studio)


def lesson_pages(studio: Studio) -> Iterator[tuple[str, bytes]]:
    """One page for each lesson, the unlisted ones among them."""
    shown = listed(studio.bound.lessons)
    places = {bound.lesson.name: place for place, bound in enumerate(shown)}
    for bound in studio.bound.lessons:
        page = LessonPage(bound, studio)
        yield page.path, page.content(_neighbours(shown, places.get(bound.lesson.name)))


def _neighbours(shown: tuple[BoundLesson, ...], place: int | None) -> Neighbours:
    """Those next to `place` in lessons that run from the newest; none for a lesson that is not among them."""
    if place is None:
        return Neighbours(None, None)
    before = shown[place + 1] if place + 1 < len(shown) else None
    return Neighbours(before, shown[place - 1] if place else None)
