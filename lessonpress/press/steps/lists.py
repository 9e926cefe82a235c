"""Steps that print pages: each lesson's own, and those that list lessons."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from lessonpress.figures import BoundLesson, answer_words, lettered
from lessonpress.manuscript import Lesson, file_at, markdown_parser, notes_at
from lessonpress.pages import (
    EARLIER,
    SQUARES,
    ArchivedYears,
    Layouts,
    LessonPage,
    LessonRow,
    Neighbours,
    PictureBook,
    Topic,
    archive_page,
    archived_years,
    fills_a_card,
    former_pages,
    glossary_page,
    home_page,
    key_of,
    lesson_path,
    overlays_of,
    plain_page,
    settings_page,
    slugs_by_key,
    topic_page,
    topics_index,
    topics_of,
    withdrawn_note,
    year_page,
)
from lessonpress.pages import not_found as page_not_found
from lessonpress.press.steps.bind import shown
from lessonpress.press.steps.prints import book_of
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.themes import SeenContext


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


def series(reader: Reader, _: str) -> dict[str, tuple[str, ...]]:
    """The listed lessons of each series, oldest first, by what spellings of its name have in common."""
    heads, found = reader.value("heads"), dict[str, tuple[str, ...]]()
    for name in reversed(reader.value("listed")):
        if called := heads[name].series:
            found[key_of(called)] = (*found.get(key_of(called), ()), name)
    return found


def topics(reader: Reader, _: str) -> dict[str, Treated]:
    """The topics of the listed lessons by their folders, in the order of the alphabet."""
    heads = reader.value("heads")
    all_topics = topics_of(_bare(heads[name]) for name in reader.value("listed"))
    return {
        topic.slug: Treated(topic.name, topic.slug, tuple(one.lesson.name for one in topic.lessons))
        for topic in all_topics
    }


def slugs(reader: Reader, _: str) -> dict[str, str]:
    """The folders of topics by what spellings of one have in common."""
    return slugs_by_key(Topic(one.name, one.slug, ()) for one in reader.value("topics").values())


def terms(reader: Reader, name: str) -> dict[str, str]:
    """Of the glossary what a lesson's page may explain: terms all of whose words it may print.

    A term that the theme knows too is among them in any case, since the site's takes its place.
    """
    words = _words_of(reader, name)
    known = {term.casefold() for term in reader.value("words", "", "terms")}
    return {
        term: meaning
        for term, meaning in reader.value("glossary").items()
        if term.casefold() in known
        or all(re.search(re.escape(word), words, re.IGNORECASE) for word in re.findall(r"\w+", term))
    }


def _words_of(reader: Reader, name: str) -> str:
    """All words that a lesson's page may print: those of its text, its plates and its numbers."""
    tokens = markdown_parser().parse(reader.value("lesson", name, "body"))
    text = [child.content for token in tokens for child in token.children or ()]
    lesson = shown(reader, name)
    units = reader.value("site.yaml", "", "units")
    numbers = [lettered(measure, units) for measure in lesson.measures.values()]
    answers = [answer_words(measure) for measure in lesson.measures.values() if measure.answer]
    full = [number.full for number in numbers if number is not None]
    goals = [f"toward {goal}, away from {goal}" for goal in ("the target", "the ball")]
    return " ".join([*text, *_texts((lesson.plates, lesson.measures)), *full, *answers, *goals])


def _texts(value: Any) -> list[str]:
    """Every text in a record or a collection of them, in no order."""
    texts: list[str] = []
    names: dict[type, tuple[str, ...]] = {}
    left = [value]
    while left:
        one = left.pop()
        if isinstance(one, str):
            texts.append(one)
        elif isinstance(one, tuple | list):
            left.extend(one)
        elif isinstance(one, dict):
            left.extend(one.values())
        else:
            kind = type(one)
            if kind not in names:
                names[kind] = tuple(field.name for field in fields(one)) if is_dataclass(one) else ()
            left.extend(getattr(one, name) for name in names[kind])
    return texts


def overlays(reader: Reader, name: str) -> dict[str, Layouts]:
    """What lies on the pictures of a lesson's page, which no word of its text changes."""
    pictured, units = reader.value("bound", name, "pictured"), reader.value("site.yaml", "", "units")
    return overlays_of(pictured, units, SeenContext(reader).say)


def lesson_page(reader: Reader, name: str) -> None:
    book = book_of(reader.value("pictures", name))
    context = SeenContext(reader, book=book, glossary=("terms", name))
    made = LessonPage(reader.value("bound", name), context, reader.value("overlays", name))
    reader.put(made.path, made.content(_neighbours(reader, name)))


def lesson_card(reader: Reader, name: str) -> None:
    from lessonpress.pages import LessonCard  # with what draws the code, for which other pages have no use

    bound = reader.value("bound", name)
    if fills_a_card(bound):
        reader.library("segno")
        card = LessonCard(bound, SeenContext(reader, book=book_of(reader.value("pictures", name))))
        reader.put(card.path, card.content())


def _neighbours(reader: Reader, name: str) -> Neighbours:
    if not reader.value("head", name, "lesson").listed:
        return Neighbours(None, None)
    before, after = (
        None if one is None else _head_alone(reader, one) for one in reader.value("beside", "", name)
    )
    called = reader.value("head", name, "lesson").series
    series = reader.value("series", "", key_of(called)) if called else ()
    return Neighbours(before, after, tuple(_head_alone(reader, one) for one in series))


def _head_alone(reader: Reader, name: str) -> BoundLesson:
    return _bare(reader.value("head", name, "lesson"))


def _bare(head: Lesson) -> BoundLesson:
    return BoundLesson(head, (), {})


def former(reader: Reader, name: str) -> tuple[str, ...]:
    """Pages at a lesson's earlier paths; of these the ones that its other files lie at as well."""
    head: Lesson = reader.value("head", name, "lesson")
    if head.former:
        for path, content in former_pages(head, SeenContext(reader)):
            reader.put(path, content)
    return head.former


def home(reader: Reader, _: str) -> None:
    names = reader.value("listed")
    heads = reader.value("heads")
    shown, rest = names[1 : 1 + EARLIER], names[1 + EARLIER :]
    latest = tuple(reader.value("bound", name) for name in names[:1])
    entries = tuple(reader.value("entry", name) for name in shown)
    lessons = (*latest, *entries, *(_bare(heads[name]) for name in rest))
    reader.put(*home_page(SeenContext(reader, lessons, _book(reader, names[: 1 + EARLIER]))))


def years(reader: Reader, _: str) -> ArchivedYears:
    """Which years the archive shows in whole, and which have pages of their own."""
    heads = reader.value("heads")
    return archived_years(heads[name].date for name in reader.value("listed"))


def archive(reader: Reader, _: str) -> None:
    shown: ArchivedYears = reader.value("years")
    reader.put(*archive_page(_of_years(reader, shown.whole), shown.older, SeenContext(reader)))


def year(reader: Reader, number: str) -> None:
    """One of the years that have pages of their own."""
    reader.put(*year_page(int(number), _of_years(reader, (int(number),)), SeenContext(reader)))


def _of_years(reader: Reader, years: tuple[int, ...]) -> tuple[LessonRow, ...]:
    heads = reader.value("heads")
    return _rows(reader, (name for name in reader.value("listed") if heads[name].date.year in years))


def _rows(reader: Reader, names: Iterable[str]) -> tuple[LessonRow, ...]:
    return tuple(reader.value("row", name) for name in names)


def index_of_topics(reader: Reader, _: str) -> None:
    heads = reader.value("heads")
    lessons = tuple(_bare(heads[name]) for name in reader.value("listed"))
    reader.put(*topics_index(SeenContext(reader, lessons)))


def topic(reader: Reader, slug: str) -> None:
    treated: Treated = reader.value("topics", "", slug)
    before, newest = treated.lessons[:-SQUARES], treated.lessons[-SQUARES:]
    squares = Topic(treated.name, treated.slug, tuple(reader.value("entry", name) for name in newest))
    context = SeenContext(reader, book=_book(reader, newest))
    reader.put(*topic_page(squares, _rows(reader, reversed(before)), context))


def plain(reader: Reader, name: str) -> None:
    reader.put(*plain_page(reader.value("text", name), SeenContext(reader)))


def glossary_page_of(reader: Reader, _: str) -> None:
    if reader.there(f"{reader.value('theme')}/templates/glossary.html"):
        reader.put(*glossary_page(SeenContext(reader)))


def settings(reader: Reader, _: str) -> None:
    reader.put(*settings_page(SeenContext(reader)))


def notes(reader: Reader, _: str) -> None:
    """In the place of each lesson that was withdrawn or put away, where no other is."""
    withdrawn = reader.value("withdrawn")
    if withdrawn:
        taken = [page for name in reader.value("pressed") for page in _pages_of(reader, name)]
        taken += reader.value("root files")
        for path, put_away in notes_at(withdrawn, taken).items():
            reader.put(*withdrawn_note(path, SeenContext(reader), put_away=put_away))


def _pages_of(reader: Reader, name: str) -> Iterator[str]:
    head: Lesson = reader.value("head", name, "lesson")
    yield lesson_path(head.folder)
    yield from map(file_at, head.former)


def not_found(reader: Reader, _: str) -> None:
    reader.put(*page_not_found(SeenContext(reader)))


def _book(reader: Reader, names: tuple[str, ...]) -> PictureBook:
    return book_of(tuple(one for name in names for one in reader.value("pictures", name)))
