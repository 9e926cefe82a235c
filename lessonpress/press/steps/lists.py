"""Steps that print pages: a lesson's own, and those that list lessons, which see only their entries."""

from __future__ import annotations

import re
from dataclasses import dataclass

from lessonpress.figures.plates import BoundLesson
from lessonpress.manuscript.lesson import Lesson
from lessonpress.manuscript.markdown import parser
from lessonpress.pages.archive import archive as archive_page
from lessonpress.pages.archive import topic_page, topics_index
from lessonpress.pages.former import former_pages_of
from lessonpress.pages.home import EARLIER
from lessonpress.pages.home import home as home_page
from lessonpress.pages.lesson import LessonPage, Neighbours
from lessonpress.pages.pictures import PictureBook
from lessonpress.pages.plain import not_found as page_not_found
from lessonpress.pages.plain import plain_page
from lessonpress.pages.topics import Topic, slugs_by_key, topics_of
from lessonpress.press.steps.prints import book_of
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.themes import SeenStudio


@dataclass(frozen=True)
class Treated:
    """A topic with the names of its lessons, oldest first."""

    name: str
    slug: str
    lessons: tuple[str, ...]


def listed(reader: Reader, _: str) -> tuple[str, ...]:
    """The lessons that lists have, newest first."""
    heads = reader.value("heads")
    return tuple(name for name in reader.value("pressed") if heads[name].listed)


def beside(reader: Reader, _: str) -> dict[str, tuple[str | None, str | None]]:
    """By listed lesson, those before and after it."""
    names = (None, *reversed(reader.value("listed")), None)
    return {name: (names[at], names[at + 2]) for at, name in enumerate(names[1:-1]) if name is not None}


def topics(reader: Reader, _: str) -> dict[str, Treated]:
    """The topics of the listed lessons by their folders, in the order of the alphabet."""
    heads = reader.value("heads")
    found = topics_of(_bare(heads[name]) for name in reader.value("listed"))
    return {
        topic.slug: Treated(topic.name, topic.slug, tuple(one.lesson.name for one in topic.lessons))
        for topic in found
    }


def slugs(reader: Reader, _: str) -> dict[str, str]:
    """The folders of topics by what spellings of one have in common."""
    return slugs_by_key(Topic(one.name, one.slug, ()) for one in reader.value("topics").values())


def terms(reader: Reader, name: str) -> dict[str, str]:
    """Of the glossary what a lesson may explain: the terms all of whose words are in it."""
    tokens = parser().parse(reader.value("lesson", name, "body"))
    words = " ".join(
        child.content for token in tokens for child in token.children or () if child.type == "text"
    )
    return {
        term: meaning
        for term, meaning in reader.value("glossary").items()
        if all(re.search(re.escape(word), words, re.IGNORECASE) for word in re.findall(r"\w+", term))
    }


def lesson_page(reader: Reader, name: str) -> None:
    book = book_of(reader.value("pictures", name))
    studio = SeenStudio(reader, book=book, glossary=("terms", name))
    made = LessonPage(reader.value("bound", name), studio)
    reader.put(made.path, made.content(_neighbours(reader, name)))


def _neighbours(reader: Reader, name: str) -> Neighbours:
    if not reader.value("head", name, "lesson").listed:
        return Neighbours(None, None)
    before, after = reader.value("beside", "", name)
    return Neighbours(*(None if one is None else _head_alone(reader, one) for one in (before, after)))


def _head_alone(reader: Reader, name: str) -> BoundLesson:
    return _bare(reader.value("head", name, "lesson"))


def _bare(head: Lesson) -> BoundLesson:
    return BoundLesson(head, (), {})


def former(reader: Reader, name: str) -> tuple[str, ...]:
    """Pages at a lesson's earlier paths; of these the ones that its other files lie at as well."""
    head: Lesson = reader.value("head", name, "lesson")
    if head.former:
        for path, content in former_pages_of(head, SeenStudio(reader)):
            reader.put(path, content)
    return head.former


def home(reader: Reader, _: str) -> None:
    names = reader.value("listed")
    heads = reader.value("heads")
    shown, rest = names[1 : 1 + EARLIER], names[1 + EARLIER :]
    latest = tuple(reader.value("bound", name) for name in names[:1])
    entries = tuple(reader.value("entry", name) for name in shown)
    lessons = (*latest, *entries, *(_bare(heads[name]) for name in rest))
    _put(reader, *home_page(SeenStudio(reader, lessons, _book(reader, names[: 1 + EARLIER]))))


def archive(reader: Reader, _: str) -> None:
    lessons = tuple(reader.value("entry", name) for name in reader.value("listed"))
    _put(reader, *archive_page(SeenStudio(reader, lessons)))


def index_of_topics(reader: Reader, _: str) -> None:
    heads = reader.value("heads")
    lessons = tuple(_bare(heads[name]) for name in reader.value("listed"))
    _put(reader, *topics_index(SeenStudio(reader, lessons)))


def topic(reader: Reader, slug: str) -> None:
    found: Treated = reader.value("topics", "", slug)
    lessons = tuple(reader.value("entry", name) for name in found.lessons)
    studio = SeenStudio(reader, lessons, _book(reader, found.lessons))
    _put(reader, *topic_page(Topic(found.name, found.slug, lessons), studio))


def plain(reader: Reader, name: str) -> None:
    _put(reader, *plain_page(reader.value("text", name), SeenStudio(reader)))


def not_found(reader: Reader, _: str) -> None:
    _put(reader, *page_not_found(SeenStudio(reader)))


def _book(reader: Reader, names: tuple[str, ...]) -> PictureBook:
    return book_of(tuple(one for name in names for one in reader.value("pictures", name)))


def _put(reader: Reader, path: str, content: bytes) -> None:
    reader.put(path, content)
