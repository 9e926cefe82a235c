"""Steps of searching: what of the site can be found, the indexes of it, and the page that asks them."""

from __future__ import annotations

from lessonpress.outlets import SEARCH_LIBRARY, can_index, index_of
from lessonpress.pages import (
    SEARCH_INDEX,
    found_path,
    found_pictures,
    lesson_path,
    lesson_record,
    page_path,
    page_record,
    search_page,
)
from lessonpress.press.steps.prints import book_of
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.themes import SeenContext

PAGES = "pages"


def searched(reader: Reader, _: str) -> dict[str, tuple[str, ...]]:
    """What is searched, in parts that are indexed apart; never a lesson for one person, or held back.

    Names of lessons by the year of their day, the newest first, since a daily author's new word must not have
    ten years read again; last those of plain pages, as PAGES.
    """
    wanted = reader.value("site.yaml", "", "search")
    if wanted == "none":
        return {}
    heads = reader.value("heads")
    lessons = reader.value("listed") if wanted == "listed" else _open_to_all(reader)
    years: dict[str, list[str]] = {}
    for name in lessons:
        years.setdefault(str(heads[name].date.year), []).append(name)
    parts = {year: tuple(years[year]) for year in sorted(years, reverse=True)}
    pages = tuple(reader.value("page heads")) if wanted == "all" else ()
    return {**parts, PAGES: pages} if pages else parts


def _open_to_all(reader: Reader) -> tuple[str, ...]:
    heads = reader.value("heads")
    return tuple(
        name for name in reader.value("pressed") if not (heads[name].private or heads[name].withheld)
    )


def search_parts(reader: Reader, _: str) -> tuple[str, ...]:
    """The parts of the index.

    None where there is nothing to find, nothing to find it with, or no page of the theme for it.
    """
    reader.library(SEARCH_LIBRARY)
    template = reader.there(f"{reader.value('theme')}/templates/search.html")
    return tuple(reader.value("searched")) if template and can_index() else ()


def searchable(reader: Reader, _: str) -> bool:
    return bool(reader.value("search parts"))


def lesson_searched(reader: Reader, name: str) -> bytes:
    """What of a lesson is searched; the pictures that it is found with are put out."""
    bound = reader.value("bound", name)
    context = SeenContext(reader, book=book_of(reader.value("pictures", name)))
    reader.put(found_path(bound.lesson.folder), found_pictures(bound, context))
    return lesson_record(bound, context)


def page_searched(reader: Reader, name: str) -> bytes:
    return page_record(reader.value("text", name), SeenContext(reader))


def index(reader: Reader, part: str) -> None:
    """The index of one part."""
    records = {}
    for name in reader.value("searched", "", part):
        if part == PAGES:
            records[page_path(name)] = reader.value("page searched", name)
        else:
            path = lesson_path(reader.value("head", name, "lesson").folder)
            records[path] = reader.value("lesson searched", name)
            reader.puts.extend(reader.puts_of("lesson searched", name))
    for path, content in index_of(records, reader.value("site.yaml", "", "language")):
        reader.put(f"{SEARCH_INDEX}/{part}/{path}", content)


def page(reader: Reader, _: str) -> None:
    parts = reader.value("search parts")
    if parts:
        reader.put(*search_page(SeenContext(reader), parts))
