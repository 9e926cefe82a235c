"""Whole sites, rendered and read by a strict HTML5 parser (html5lib, after the WHATWG parsing algorithm)."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import pairwise
from urllib.parse import urljoin, urlsplit
from xml.etree.ElementTree import Element

import pytest

from lessonpress.pages import PictureBook
from tests.pages import factory
from tests.pages.sites import (
    SITES,
    THEME,
    XHTML,
    files_beside,
    hrefs_of,
    ids_of,
    pages_of,
    parse,
    target,
)

_CONTROLS = {f"{XHTML}{name}" for name in ("button", "input", "select", "dialog")}

every_site = pytest.mark.parametrize("name", SITES)


@cache
def rendered(name: str) -> dict[str, str]:
    pages = pages_of(SITES[name])
    assert pages.keys() >= {"index.html", "404.html"}
    return pages


@every_site
def test_every_page_is_html_without_a_mistake(name: str) -> None:
    for html in rendered(name).values():
        parse(html)


@every_site
def test_no_id_is_given_twice_on_a_page(name: str) -> None:
    for path, html in rendered(name).items():
        twice = [found for found, count in Counter(ids_of(parse(html))).items() if count > 1]
        assert not twice, path


@every_site
def test_every_link_leads_somewhere(name: str) -> None:
    """To a page, to a place on it, or to a file that the pages say is beside them; never to the root."""
    pages = rendered(name)
    ids = {path: set(ids_of(parse(html))) for path, html in pages.items()}
    scripts = {script.path for script in THEME.scripts.values()}
    files = {*pages, *THEME.files, *scripts, *files_beside(SITES[name])}
    for path, html in pages.items():
        root = urlsplit(SITES[name].site.url or "").path.rstrip("/") + "/"
        for href in hrefs_of(parse(html)):
            assert path == "404.html" or not href.startswith("/"), (path, href)
            found = target(path, href.removeprefix(root))
            if found is None:
                continue
            assert found[0] in files, (path, href)
            assert not found[1] or found[1] in ids[found[0]], (path, href)


@every_site
def test_ids_that_describe_or_name_others_exist(name: str) -> None:
    for path, html in rendered(name).items():
        page = parse(html)
        known = set(ids_of(page))
        for element in page.iter():
            for relation in ("aria-labelledby", "aria-describedby", "aria-details"):
                assert set((element.get(relation) or "").split()) <= known, path


@every_site
def test_every_page_has_one_main_heading_and_skips_no_level(name: str) -> None:
    for path, html in rendered(name).items():
        levels = [
            int(element.tag[-1])
            for element in parse(html).iter()
            if element.tag in {f"{XHTML}h{level}" for level in range(1, 7)}
        ]
        assert levels.count(1) == 1, path
        assert levels[0] == 1, path
        assert all(after - before <= 1 for before, after in pairwise(levels)), path


@every_site
def test_pages_are_complete_without_scripts(name: str) -> None:
    """No script is in a page itself, and what only a script could do is hidden until one shows it."""
    for path, html in rendered(name).items():
        page = parse(html)
        scripts = [element for element in page.iter() if element.tag == f"{XHTML}script"]
        assert all(one.get("src") and not (one.text or "").strip() for one in scripts), path
        shown_by_scripts = {"controls", "scripted", "keep", "kept"}
        groups = [one for one in page.iter() if shown_by_scripts & set((one.get("class") or "").split())]
        assert all("hidden" in group.attrib for group in groups), path
        within = {inner for group in groups for inner in group.iter()}
        meant = {one for one in page.iter() if one.tag in _CONTROLS or "hidden" in one.attrib}
        assert meant <= within, path


@every_site
def test_every_picture_has_its_size_and_words(name: str) -> None:
    pictures = [image for html in rendered(name).values() for image in parse(html).iter(f"{XHTML}img")]
    assert pictures or not any(lesson.plates for lesson in SITES[name].lessons)
    for image in pictures:
        assert image.get("alt") is not None
        assert int(image.get("width") or 0) > 0
        assert int(image.get("height") or 0) > 0


def test_what_an_author_writes_as_code_shows_as_text() -> None:
    html = rendered("an author who writes code")["index.html"]
    assert "&lt;script&gt;alert" in html
    assert "<i>Notes" not in html


def test_unlisted_lessons_are_pressed_and_linked_from_nowhere() -> None:
    hidden = factory.whole_lesson("hidden", listed=False, topics=("secret",))
    pages = pages_of(factory.bound(hidden, factory.bare_lesson("shown")))
    assert 'content="noindex"' in pages["lessons/hidden/index.html"]
    others = [html for path, html in pages.items() if not path.startswith("lessons/hidden/")]
    assert not any("hidden" in "".join(hrefs_of(parse(html))) for html in others)


def test_a_picture_that_is_not_there_is_a_hatched_frame_with_its_words() -> None:
    pages = pages_of(factory.bound(factory.whole_lesson()), PictureBook({}))
    page = parse(pages["lessons/pelvis/index.html"])
    assert not list(page.iter(f"{XHTML}img"))
    absent = [p for p in page.iter(f"{XHTML}p") if p.get("class") == "absent"]
    assert len(absent) == 5
    assert "Face-on at setup." in (absent[0].text or "")


@pytest.mark.parametrize(
    ("url", "start"),
    [("https://saltmarsh.example/notebook", "/notebook/"), ("https://saltmarsh.example", "/"), (None, "/")],
)
def test_the_page_for_what_is_not_found_links_from_the_root_of_its_host(url: str | None, start: str) -> None:
    """Resolved after RFC 3986 from a deep address, everything it loads lies in the site, on the same host."""
    page = parse(pages_of(factory.bound(url=url))["404.html"])
    served = "https://copy.example/a/b/c/none"
    found = [href for href in hrefs_of(page) if not urlsplit(href).scheme and href[0] != "#"]
    assert found
    assert all(urljoin(served, href).startswith(f"https://copy.example{start}") for href in found)
    assert f"{start}{THEME.style_path}" in found
    assert not list(page.iter(f"{XHTML}style"))


@every_site
def test_every_address_is_one_without_spaces(name: str) -> None:
    """HTML Living Standard: no space, and none of the signs that RFC 3986, section 2, leaves out."""
    for path, html in rendered(name).items():
        for href in hrefs_of(parse(html)):
            assert re.fullmatch(r"[A-Za-z0-9._~:/?#\[\]@!$&'()*+,;=%-]*", href), (path, href)


def test_hostile_words_of_site_yaml_stay_words() -> None:
    """Read by a strict HTML parser: no element and no attribute comes of them."""
    hostile = '</title></style><script>alert(1)</script>" onload="alert(1)\' -->]]>'
    plain, bound = factory.bound(), factory.bound()
    file = bound.site.file.model_copy(update={"title": hostile, "author": hostile})
    bound = replace(bound, site=replace(bound.site, file=file))
    tame = pages_of(plain)
    assert len(tame) > 3
    for path, html in pages_of(bound).items():
        assert _shape(parse(html)) == _shape(parse(tame[path])), path


def _shape(page: Element) -> list[tuple[str, tuple[str, ...]]]:
    """Every element with the names of its attributes, in order."""
    return [(str(one.tag), tuple(sorted(map(str, one.attrib)))) for one in page.iter()]
