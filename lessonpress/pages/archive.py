"""The pages that list: all lessons by year, all topics, and one page for each topic."""

from __future__ import annotations

from itertools import groupby

from lessonpress.pages.entries import lesson_entry, listed_lessons
from lessonpress.pages.frame import PageContext
from lessonpress.pages.links import ARCHIVE_PAGE, TOPICS_PAGE, topic_feed_path, topic_path
from lessonpress.pages.topics import Topic, letters_of


def archive_page(context: PageContext) -> tuple[str, bytes]:
    """All lessons in words, newest first, a heading for each year."""
    entries = [
        lesson_entry(bound, context, pictured=False) for bound in listed_lessons(context.bound.lessons)
    ]
    years = [
        (year, list(of_year)) for year, of_year in groupby(entries, lambda one: one.bound.lesson.date.year)
    ]
    return ARCHIVE_PAGE, context.page(
        "archive.html",
        ARCHIVE_PAGE,
        title=context.words["archive"]["title"],
        years=years,
        count=len(entries),
    )


def topics_index(context: PageContext) -> tuple[str, bytes]:
    """All topics, under their letters."""
    title = context.words["topics"]["title"]
    letters = letters_of(context.topics)
    return TOPICS_PAGE, context.page("topics.html", TOPICS_PAGE, title=title, index_letters=letters)


def topic_page(topic: Topic, context: PageContext) -> tuple[str, bytes]:
    """The lessons of a topic as squares, newest first."""
    path = topic_path(topic.slug)
    entries = [lesson_entry(bound, context, pictured=True) for bound in reversed(topic.lessons)]
    feed = (topic.name, *(topic_feed_path(topic.slug, suffix) for suffix in ("xml", "json")))
    return path, context.page(
        "topic.html", path, title=topic.name, topic=topic, entries=entries, feeds=[feed]
    )
