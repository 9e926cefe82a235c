"""The site map names every page that is linked, and robots.txt names the map."""

from __future__ import annotations

from collections.abc import Callable
from urllib.robotparser import RobotFileParser
from xml.etree import ElementTree

from lessonpress.manuscript.site.site import Site
from lessonpress.outlets.sitemap import ROBOTS, SITEMAP, sitemap_files

SiteAt = Callable[[str], Site]
ADDRESS = "https://example.org/"
_NAMES = {
    "s": "http://www.sitemaps.org/schemas/sitemap/0.9",
    "image": "http://www.google.com/schemas/sitemap-image/1.1",
}


def _made(site: Site) -> dict[str, bytes]:
    return dict(sitemap_files(site, site.lessons, {"first": ["lessons/first/top view.png"]}))


def test_the_map_names_home_lessons_and_pages_by_absolute_address(wordy_site: SiteAt) -> None:
    """sitemaps.org protocol 0.9: urlset, url, loc, lastmod as a W3C date; image extension 1.1: image, loc."""
    found = ElementTree.fromstring(_made(wordy_site(ADDRESS))[SITEMAP])
    assert found.tag == f"{{{_NAMES['s']}}}urlset"
    entries = {
        entry.findtext("s:loc", "", _NAMES): entry.findtext("s:lastmod", "", _NAMES)
        for entry in found.findall("s:url", _NAMES)
    }
    assert entries == {
        ADDRESS: "",
        ADDRESS + "lessons/first/": "2026-11-09",
        ADDRESS + "lessons/second/": "2026-11-20",
        ADDRESS + "pages/about/": "",
    }
    pictures = [one.text for one in found.findall("s:url/image:image/image:loc", _NAMES)]
    assert pictures == [ADDRESS + "lessons/first/top%20view.png"]


def test_robots_may_read_everything_and_find_the_map(wordy_site: SiteAt) -> None:
    """RFC 9309, read with the standard library's parser."""
    robots = RobotFileParser()
    robots.parse(_made(wordy_site(ADDRESS))[ROBOTS].decode().splitlines())
    assert robots.can_fetch("anyone", ADDRESS + "lessons/first/")
    assert robots.site_maps() == [ADDRESS + SITEMAP]


def test_an_unlisted_lesson_is_named_nowhere(wordy_site: SiteAt) -> None:
    assert all(b"hidden" not in content for content in _made(wordy_site(ADDRESS)).values())


def test_a_site_without_an_address_has_no_map(wordy_site: SiteAt) -> None:
    assert set(_made(wordy_site(""))) == {ROBOTS}
