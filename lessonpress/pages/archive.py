"""The pages that list: all lessons by year, all topics, and one page for each topic."""

from __future__ import annotations

from itertools import groupby

from lessonpress.pages import links
from lessonpress.pages.entries import entry, listed
from lessonpress.pages.frame import Studio
from lessonpress.pages.topics import Topic, letters_of


def archive(studio: Studio) -> tuple[str, bytes]:
    """All lessons in words, newest first, a heading for each year."""
    entries = [entry(bound, studio, pictured=False) for bound in listed(studio.bound.lessons)]
    years = [
        (year, list(of_year)) for year, of_year in groupby(entries, lambda one: one.bound.lesson.date.year)
    ]
    return links.ARCHIVE, studio.page(
        "archive.html", links.ARCHIVE, title=studio.words["archive"]["title"], years=years, count=len(entries)
    )


def topics_index(studio: Studio) -> tuple[str, bytes]:
    """All topics, under their letters."""
    title = studio.words["topics"]["title"]
    letters = letters_of(studio.topics)
    return links.TOPICS, studio.page("topics.html", links.TOPICS, title=title, index_letters=letters)


def topic_page(topic: Topic, studio: Studio) -> tuple[str, bytes]:
    """The lessons of a topic as squares, newest first."""
    path = links.topic(topic.slug)
    entries = [entry(bound, studio, pictured=True) for bound in reversed(topic.lessons)]
    return path, studio.page("topic.html", path, title=topic.name, topic=topic, entries=entries)
