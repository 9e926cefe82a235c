"""Feeds of the lessons, newest first: Atom (RFC 4287) and JSON Feed 1.1, of the site and of each topic.

A feed is read away from the site, so every link in it is absolute; a site without a `url` has none. Times
are midnight UTC of the day the author wrote, so that pressing twice gives the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from xml.etree import ElementTree

from lessonpress.manuscript import Lesson, Site, file_at
from lessonpress.outlets.addresses import address
from lessonpress.pages import ATOM_FEED, HOME_PAGE, JSON_FEED, Topic, lesson_path, topic_feed_path, topic_path

LATEST = 30  # entries; a reader keeps what it has seen, and the archive has the rest
_ATOM_NAMESPACE = "http://www.w3.org/2005/Atom"


@dataclass(frozen=True)
class Feed:
    """Which lessons a feed is of. home: the page that shows them; atom, json: where the feed lies."""

    title: str
    home: str
    atom: str
    json: str


@dataclass(frozen=True)
class FeedEntry:
    """content: the whole lesson as HTML, every address in it absolute."""

    lesson: Lesson
    content: str


def feed_of(site: Site, topic: Topic | None = None) -> Feed:
    """That of the site, or of one of its topics."""
    if topic is None:
        return Feed(site.title, HOME_PAGE, ATOM_FEED, JSON_FEED)
    at_atom, at_json = (topic_feed_path(topic.slug, suffix) for suffix in ("xml", "json"))
    return Feed(f"{site.title}: {topic.name}", topic_path(topic.slug), at_atom, at_json)


def feed_files(site: Site, of: Feed, entries: Sequence[FeedEntry]) -> Iterator[tuple[str, bytes]]:
    """(path, bytes) of both forms of a feed. entries: newest first. The site must have a url."""
    yield of.atom, atom(site, of, entries)
    yield of.json, json_feed(site, of, entries)


def atom(site: Site, of: Feed, entries: Sequence[FeedEntry]) -> bytes:
    """An Atom feed document, RFC 4287 section 4.1.1: id, title, updated, author, and an entry a lesson."""
    latest = [entry.lesson for entry in entries]
    feed = ElementTree.Element("feed", {"xmlns": _ATOM_NAMESPACE, "xml:lang": site.language})
    _add(feed, "id", address(site, of.home))
    _add(feed, "title", of.title)
    _add(feed, "updated", _moment(max((_changed(lesson) for lesson in latest), default=date(1970, 1, 1))))
    _add(feed, "link", rel="self", type="application/atom+xml", href=address(site, of.atom))
    _add(feed, "link", rel="alternate", type="text/html", href=address(site, of.home))
    _add(ElementTree.SubElement(feed, "author"), "name", site.author or site.title)
    for entry in entries:
        _entry(ElementTree.SubElement(feed, "entry"), site, entry)
    ElementTree.indent(feed)
    written: bytes = ElementTree.tostring(feed, encoding="utf-8", xml_declaration=True)
    return written + b"\n"


def _entry(entry: ElementTree.Element, site: Site, of: FeedEntry) -> None:
    lesson = of.lesson
    link = address(site, lesson_path(lesson.name))
    _add(entry, "id", _id(site, lesson))
    _add(entry, "title", lesson.title)
    _add(entry, "published", _moment(lesson.date))
    _add(entry, "updated", _moment(_changed(lesson)))
    _add(entry, "link", rel="alternate", type="text/html", href=link)
    if lesson.author:
        _add(ElementTree.SubElement(entry, "author"), "name", lesson.author)
    for topic in lesson.topics:
        _add(entry, "category", term=topic)
    if lesson.summary:
        _add(entry, "summary", lesson.summary)
    _add(entry, "content", of.content, type="html")


def json_feed(site: Site, of: Feed, entries: Sequence[FeedEntry]) -> bytes:
    """A JSON Feed, version 1.1 (jsonfeed.org)."""
    feed = {
        "version": "https://jsonfeed.org/version/1.1",
        "title": of.title,
        "home_page_url": address(site, of.home),
        "feed_url": address(site, of.json),
        "language": site.language,
        "authors": [{"name": site.author or site.title}],
        "items": [_item(site, entry) for entry in entries],
    }
    return (json.dumps(feed, ensure_ascii=False, indent=1) + "\n").encode()


def _item(site: Site, entry: FeedEntry) -> dict[str, object]:
    lesson = entry.lesson
    link = address(site, lesson_path(lesson.name))
    item: dict[str, object] = {
        "id": _id(site, lesson),
        "url": link,
        "title": lesson.title,
        "content_html": entry.content,
        "date_published": _moment(lesson.date),
        "date_modified": _moment(_changed(lesson)),
        "tags": list(lesson.topics),
    }
    if lesson.summary:
        item["summary"] = lesson.summary
    if lesson.author:
        item["authors"] = [{"name": lesson.author}]
    return item


def _id(site: Site, lesson: Lesson) -> str:
    """Where the lesson first was: an entry keeps its id for good (RFC 4287, section 4.2.6), moved or not."""
    return address(site, file_at(lesson.former[0]) if lesson.former else lesson_path(lesson.name))


def _changed(lesson: Lesson) -> date:
    return lesson.updated or lesson.date


def _moment(day: date) -> str:
    """RFC 3339."""
    return f"{day.isoformat()}T00:00:00Z"


def _add(parent: ElementTree.Element, name: str, text: str | None = None, **attributes: str) -> None:
    ElementTree.SubElement(parent, name, attributes).text = text
