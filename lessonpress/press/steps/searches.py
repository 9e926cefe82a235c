"""Steps of searching: what of the site can be found, the index of it, and the page that asks it."""

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


def searched(reader: Reader, _: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The names of the lessons and pages that are searched; never one for one person, or held back."""
    wanted = reader.value("site.yaml", "", "search")
    if wanted == "none":
        return (), ()
    if wanted == "listed":
        return reader.value("listed"), ()
    heads = reader.value("heads")
    open_to_all = (
        name for name in reader.value("pressed") if not (heads[name].private or heads[name].withheld)
    )
    return tuple(open_to_all), tuple(reader.value("page heads"))


def searchable(reader: Reader, _: str) -> bool:
    """Whether there is something to find, something to find it with, and a page of the theme for it."""
    reader.library(SEARCH_LIBRARY)
    template = reader.there(f"{reader.value('theme')}/templates/search.html")
    return template and can_index() and any(reader.value("searched"))


def lesson_searched(reader: Reader, name: str) -> bytes:
    """What of a lesson is searched; the pictures that it is found with are put out."""
    bound = reader.value("bound", name)
    context = SeenContext(reader, book=book_of(reader.value("pictures", name)))
    reader.put(found_path(bound.lesson.folder), found_pictures(bound, context))
    return lesson_record(bound, context)


def page_searched(reader: Reader, name: str) -> bytes:
    return page_record(reader.value("text", name), SeenContext(reader))


def index(reader: Reader, _: str) -> None:
    if not reader.value("searchable"):
        return
    lessons, pages = reader.value("searched")
    records = {page_path(name): reader.value("page searched", name) for name in pages}
    for name in lessons:
        path = lesson_path(reader.value("head", name, "lesson").folder)
        records[path] = reader.value("lesson searched", name)
        reader.puts.extend(reader.puts_of("lesson searched", name))
    for path, content in index_of(records, reader.value("site.yaml", "", "language")):
        reader.put(f"{SEARCH_INDEX}/{path}", content)


def page(reader: Reader, _: str) -> None:
    if reader.value("searchable"):
        reader.put(*search_page(SeenContext(reader)))
