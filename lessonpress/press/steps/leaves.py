"""Steps for files that are not pages: feeds, the site map, the author's own files."""

from __future__ import annotations

from lessonpress.manuscript import ROOT_FOLDER, Lesson
from lessonpress.outlets import feed_files, sitemap_files
from lessonpress.pages import attached_path
from lessonpress.press.steps.dockets import Put
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import SeenSite


def feeds(reader: Reader, _: str) -> None:
    for path, content in feed_files(SeenSite(reader), _lessons(reader)):
        reader.put(path, content)


def sitemap(reader: Reader, _: str) -> None:
    for path, content in sitemap_files(SeenSite(reader), _lessons(reader)):
        reader.put(path, content)


def attached_file(reader: Reader, path: str) -> None:
    """A file that lessons or pages link to, as it is."""
    reader.uses(path)
    content = reader.works.own_file(path)
    reader.puts.append(Put(attached_path(path), *reader.works.hash_and_size(content), "", path))


def root_file(reader: Reader, path: str) -> None:
    """A file of `root/`, as it is."""
    within = f"{ROOT_FOLDER}/{path}"
    reader.uses(within)
    content = reader.works.own_file(within)
    reader.puts.append(Put(path, *reader.works.hash_and_size(content), "", within))


def _lessons(reader: Reader) -> list[Lesson]:
    heads = reader.value("heads")
    return [heads[name] for name in reader.value("listed")]
