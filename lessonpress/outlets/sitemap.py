"""sitemap.xml (sitemaps.org 0.9, with the image extension 1.1) and robots.txt, which points to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from xml.etree import ElementTree

from lessonpress.manuscript import Lesson, Site
from lessonpress.outlets.addresses import address
from lessonpress.pages import HOME_PAGE, lesson_path, page_path

SITEMAP = "sitemap.xml"
ROBOTS = "robots.txt"
_NAMESPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"
_OF_PICTURES = "http://www.google.com/schemas/sitemap-image/1.1"  # the extension's name; nothing is fetched


def sitemap_files(
    site: Site, lessons: Iterable[Lesson], pictures: Mapping[str, Iterable[str]]
) -> Iterator[tuple[str, bytes]]:
    """(path, bytes) of robots.txt and, where the site has a url, of the map it points to.

    pictures: by lesson the paths of the pictures on its page.

    Lessons that are not listed are in neither: a robots.txt that named them would list them.
    """
    if not site.url:
        yield ROBOTS, b"User-agent: *\nDisallow:\n"
        return
    yield ROBOTS, f"User-agent: *\nDisallow:\n\nSitemap: {address(site, SITEMAP)}\n".encode()
    listed = [lesson for lesson in lessons if lesson.listed]
    urls = ElementTree.Element("urlset", {"xmlns": _NAMESPACE, "xmlns:image": _OF_PICTURES})
    for path, changed, shown in _entries(site, listed, pictures):
        entry = ElementTree.SubElement(urls, "url")
        ElementTree.SubElement(entry, "loc").text = address(site, path)
        if changed:
            ElementTree.SubElement(entry, "lastmod").text = changed
        for picture in shown:
            image = ElementTree.SubElement(entry, "image:image")
            ElementTree.SubElement(image, "image:loc").text = address(site, picture)
    ElementTree.indent(urls)
    written: bytes = ElementTree.tostring(urls, encoding="utf-8", xml_declaration=True)
    yield SITEMAP, written + b"\n"


def _entries(
    site: Site, listed: Iterable[Lesson], pictures: Mapping[str, Iterable[str]]
) -> Iterator[tuple[str, str, Iterable[str]]]:
    """Path, day of the last change ("" where the author wrote none), and the pictures there."""
    yield HOME_PAGE, "", ()
    for lesson in listed:
        changed = (lesson.updated or lesson.date).isoformat()
        yield lesson_path(lesson.name), changed, pictures.get(lesson.name, ())
    for name in site.pages:
        yield page_path(name), "", ()
