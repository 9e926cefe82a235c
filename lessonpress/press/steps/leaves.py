"""Steps for files that are not pages: feeds, the site map, the author's own files."""

from __future__ import annotations

from lessonpress.footage import is_still, told_by
from lessonpress.manuscript import ROOT_FOLDER, Lesson
from lessonpress.outlets import (
    LATEST,
    FeedEntry,
    LessonMeasures,
    feed_files,
    feed_of,
    measures_files,
    sitemap_files,
)
from lessonpress.pages import Topic, attached_path, diagram_paths, lesson_away
from lessonpress.press.cache import CacheEntry
from lessonpress.press.compressing import LIBRARIES, compressed
from lessonpress.press.steps.dockets import Put
from lessonpress.press.steps.lists import Treated
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import SeenSite
from lessonpress.press.steps.themes import SeenContext
from lessonpress.records import Location


def feed_entry(reader: Reader, name: str) -> str:
    """A lesson as feeds have it, in whole."""
    return str(lesson_away(reader.value("bound", name), SeenContext(reader)))


def feeds(reader: Reader, _: str) -> None:
    if SeenSite(reader).url:
        _put_feeds(reader, None, reader.value("listed"))


def topic_feeds(reader: Reader, slug: str) -> None:
    if SeenSite(reader).url:
        treated: Treated = reader.value("topics", "", slug)
        _put_feeds(reader, Topic(treated.name, slug, ()), tuple(reversed(treated.lessons)))


def _put_feeds(reader: Reader, topic: Topic | None, names: tuple[str, ...]) -> None:
    """names: of the lessons, the newest first."""
    site = SeenSite(reader)
    latest = [
        FeedEntry(reader.value("head", name, "lesson"), reader.value("feed entry", name))
        for name in names[:LATEST]
    ]
    for path, content in feed_files(site, feed_of(site, topic), latest):
        reader.put(path, content)


def sitemap(reader: Reader, _: str) -> None:
    site, lessons = SeenSite(reader), _lessons(reader)
    pictures = {one.name: reader.value("diagram names", one.name) for one in lessons} if site.url else {}
    for path, content in sitemap_files(site, lessons, pictures):
        reader.put(path, content)


def diagram_names(reader: Reader, name: str) -> tuple[str, ...]:
    """The paths of a lesson's plates as PNG."""
    plates = reader.value("bound", name, "plates")
    return tuple(path for plate in plates for path in diagram_paths(name, plate, "png"))


def all_measures(reader: Reader, _: str) -> None:
    """The measures of all listed lessons as data."""
    every = [LessonMeasures(one, reader.value("bound", one.name, "measures")) for one in _lessons(reader)]
    for path, content in measures_files(every):
        reader.put(path, content)


def attached_file(reader: Reader, path: str) -> None:
    """A file that lessons or pages link to: a picture made fit for it, any other as it is."""
    if is_still(path):
        reader.puts.extend(reader.puts_of("still", path))
        return
    reader.uses(path)
    content = reader.works.own_file(path)
    _check_bare(reader, path, content)
    reader.puts.append(Put(attached_path(path), *reader.works.hash_and_size(content), "", path))


def root_file(reader: Reader, path: str) -> None:
    """A file of `root/`, as it is."""
    within = f"{ROOT_FOLDER}/{path}"
    reader.uses(within)
    content = reader.works.own_file(within)
    _check_bare(reader, within, content)
    reader.puts.append(Put(path, *reader.works.hash_and_size(content), "", within))


def _check_bare(reader: Reader, path: str, content: bytes) -> None:
    told = told_by(path, content)
    if told:
        wrong = f"this file is published as it is, and says where, when or with what it was made ({told})"
        right = (
            "save it without that; a picture shown by a lesson, or a film put into a clip, loses it by itself"
        )
        reader.problems.error(Location(path), wrong, right)


def smaller(reader: Reader, entry: str) -> None:
    """The compressed forms of what an entry of the cache holds; a path is only the suffix."""
    for library in LIBRARIES:
        reader.library(library)
    shelf, _, name = entry.rpartition("/")
    for suffix, content in compressed(CacheEntry(reader.cache.folder, shelf, name).content()).items():
        reader.put(suffix, content)


def _lessons(reader: Reader) -> list[Lesson]:
    heads = reader.value("heads")
    return [heads[name] for name in reader.value("listed")]
