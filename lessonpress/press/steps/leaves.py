"""Steps for files that are not pages: feeds, the site map, the author's own files."""

from __future__ import annotations

from lessonpress.manuscript.lesson.lesson import Lesson
from lessonpress.outlets.feeds import feeds as feeds_of
from lessonpress.outlets.sitemap import sitemap as map_of
from lessonpress.pages import links
from lessonpress.press.steps.dockets import Put
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import SeenSite


def feeds(reader: Reader, _: str) -> None:
    for path, content in feeds_of(SeenSite(reader), _lessons(reader)):
        reader.put(path, content)


def sitemap(reader: Reader, _: str) -> None:
    for path, content in map_of(SeenSite(reader), _lessons(reader)):
        reader.put(path, content)


def attached_file(reader: Reader, path: str) -> None:
    """A file that lessons or pages link to, as it is."""
    reader.uses(path)
    content = reader.works.own_file(path)
    reader.puts.append(Put(links.attached(path), *reader.works.hash_and_size(content), "", path))


def _lessons(reader: Reader) -> list[Lesson]:
    heads = reader.value("heads")
    return [heads[name] for name in reader.value("listed")]
