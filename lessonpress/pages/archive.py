"""The pages that list: all lessons by year and month, all topics, and one page for each topic.

The archive shows its newest years in whole, and leads to pages of their own for those before: a list of
thousands of lessons is too much for a telephone. So are the squares of a topic of hundreds: its newest
lessons have a picture, and each of those before a line.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from lessonpress.pages.entries import LessonRow, lesson_entry
from lessonpress.pages.frame import PageContext
from lessonpress.pages.links import ARCHIVE_PAGE, TOPICS_PAGE, topic_feed_path, topic_path, year_path
from lessonpress.pages.topics import Topic, letters_of

WHOLE = 200  # lessons on the archive's own page, whole years; the newest year is there in any case

SQUARES = 12  # newest lessons of a topic that are shown with a picture


@dataclass(frozen=True)
class Month:
    """month: from 1. id: of its heading."""

    month: int
    id: str
    entries: tuple[LessonRow, ...]


@dataclass(frozen=True)
class Year:
    """months: the newest first."""

    year: int
    months: tuple[Month, ...]

    @property
    def entries(self) -> tuple[LessonRow, ...]:
        return tuple(entry for month in self.months for entry in month.entries)

    @property
    def count(self) -> int:
        return len(self.entries)


def archived_years(dates: Iterable[date]) -> ArchivedYears:
    """The years of lessons that are listed, and which of them the archive shows in whole. dates: of each."""
    counts = dict(sorted(Counter(day.year for day in dates).items(), reverse=True))
    whole: list[int] = []
    shown = 0
    for year, count in counts.items():
        shown += count
        if whole and shown > WHOLE:
            break
        whole.append(year)
    older = {year: count for year, count in counts.items() if year not in whole}
    return ArchivedYears(tuple(whole), older)


@dataclass(frozen=True)
class ArchivedYears:
    """whole: on the archive's own page, the newest first. older: years with pages of their own → lessons."""

    whole: tuple[int, ...]
    older: Mapping[int, int]


def archive_page(
    rows: Iterable[LessonRow], older: Mapping[int, int], context: PageContext
) -> tuple[str, bytes]:
    """Lessons in words by year and month, with links to `older` years. rows: newest first."""
    years = _by_year(rows)
    count = sum(year.count for year in years) + sum(older.values())
    title = context.words["archive"]["title"]
    return ARCHIVE_PAGE, context.page(
        "archive.html", ARCHIVE_PAGE, title=title, years=years, older=older, count=count, year=None
    )


def year_page(year: int, rows: Iterable[LessonRow], context: PageContext) -> tuple[str, bytes]:
    """The lessons of one year. rows: newest first."""
    years, path = _by_year(rows), year_path(year)
    count = sum(one.count for one in years)
    title = context.words["archive"]["year"].format(year=year)
    return path, context.page(
        "archive.html", path, title=title, years=years, older={}, count=count, year=year
    )


def _by_year(rows: Iterable[LessonRow]) -> list[Year]:
    by_year = groupby(rows, lambda one: one.lesson.date.year)
    return [Year(year, tuple(_months(year, of_year))) for year, of_year in by_year]


def _months(year: int, rows: Iterable[LessonRow]) -> Iterator[Month]:
    for month, of_month in groupby(rows, lambda one: one.lesson.date.month):
        yield Month(month, f"{year}-{month:02}", tuple(of_month))


def topics_index(context: PageContext) -> tuple[str, bytes]:
    """All topics, under their letters."""
    title = context.words["topics"]["title"]
    letters = letters_of(context.topics)
    return TOPICS_PAGE, context.page("topics.html", TOPICS_PAGE, title=title, index_letters=letters)


def topic_page(topic: Topic, rows: Iterable[LessonRow], context: PageContext) -> tuple[str, bytes]:
    """The newest lessons of a topic as squares, those before in words, newest first.

    topic: with those of squares alone, up to SQUARES. rows: of the others, newest first.
    """
    path = topic_path(topic.slug)
    entries = [lesson_entry(bound, context) for bound in topic.lessons[::-1]]
    earlier = _by_year(rows)
    feed = (topic.name, *(topic_feed_path(topic.slug, suffix) for suffix in ("xml", "json")))
    return path, context.page(
        "topic.html", path, title=topic.name, topic=topic, entries=entries, earlier=earlier, feeds=[feed]
    )
