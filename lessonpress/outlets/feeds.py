"""Feeds of the lessons, newest first: Atom (RFC 4287) and JSON Feed 1.1.

A feed is read away from the site, so every link in it is absolute; a site without a `url` has none. Times
are midnight UTC of the day the author wrote, so that pressing twice gives the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from datetime import date
from xml.etree import ElementTree

from lessonpress.manuscript import Lesson, Site, file_at
from lessonpress.outlets.addresses import address
from lessonpress.pages import ATOM_FEED, HOME_PAGE, JSON_FEED, lesson_path

_LATEST = 30  # entries; a reader keeps what it has seen, and the archive has the rest
_ATOM_NAMESPACE = "http://www.w3.org/2005/Atom"


def feed_files(site: Site, lessons: Iterable[Lesson]) -> Iterator[tuple[str, bytes]]:
    """(path, bytes) of both feeds, or nothing where the site has no url. lessons: newest first."""
    if not site.url:
        return
    latest = [lesson for lesson in lessons if lesson.listed][:_LATEST]
    yield ATOM_FEED, atom(site, latest)
    yield JSON_FEED, json_feed(site, latest)


def atom(site: Site, lessons: Iterable[Lesson]) -> bytes:
    """An Atom feed document, RFC 4287 section 4.1.1: id, title, updated, author, and an entry a lesson."""
    latest = list(lessons)
    feed = ElementTree.Element("feed", {"xmlns": _ATOM_NAMESPACE, "xml:lang": site.language})
    _add(feed, "id", address(site, HOME_PAGE))
    _add(feed, "title", site.title)
    _add(feed, "updated", _moment(max((_changed(lesson) for lesson in latest), default=date(1970, 1, 1))))
    _add(feed, "link", rel="self", type="application/atom+xml", href=address(site, ATOM_FEED))
    _add(feed, "link", rel="alternate", type="text/html", href=address(site, HOME_PAGE))
    _add(ElementTree.SubElement(feed, "author"), "name", site.author or site.title)
    for lesson in latest:
        _entry(ElementTree.SubElement(feed, "entry"), site, lesson)
    ElementTree.indent(feed)
    written: bytes = ElementTree.tostring(feed, encoding="utf-8", xml_declaration=True)
    return written + b"\n"


def _entry(entry: ElementTree.Element, site: Site, lesson: Lesson) -> None:
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
    _add(entry, "summary", lesson.summary)


def json_feed(site: Site, lessons: Iterable[Lesson]) -> bytes:
    """A JSON Feed, version 1.1 (jsonfeed.org)."""
    feed = {
        "version": "https://jsonfeed.org/version/1.1",
        "title": site.title,
        "home_page_url": address(site, HOME_PAGE),
        "feed_url": address(site, JSON_FEED),
        "language": site.language,
        "authors": [{"name": site.author or site.title}],
        "items": [_item(site, lesson) for lesson in lessons],
    }
    return (json.dumps(feed, ensure_ascii=False, indent=1) + "\n").encode()


def _item(site: Site, lesson: Lesson) -> dict[str, object]:
    link = address(site, lesson_path(lesson.name))
    item: dict[str, object] = {
        "id": _id(site, lesson),
        "url": link,
        "title": lesson.title,
        "content_text": lesson.summary,
        "date_published": _moment(lesson.date),
        "date_modified": _moment(_changed(lesson)),
        "tags": list(lesson.topics),
    }
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
