"""Whole sites, rendered and read by a strict HTML5 parser (html5lib, after the WHATWG parsing algorithm)."""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import pairwise

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

every_site = pytest.mark.parametrize("name", SITES)


@cache
def rendered(name: str) -> dict[str, str]:
    return pages_of(SITES[name])


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
    files = {*pages, *THEME.files, *files_beside(SITES[name])}
    for path, html in pages.items():
        for href in hrefs_of(parse(html)):
            assert not href.startswith("/"), (path, href)
            found = target(path, href)
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
def test_pages_carry_no_script_and_no_button(name: str) -> None:
    for html in rendered(name).values():
        tags = {element.tag for element in parse(html).iter() if isinstance(element.tag, str)}
        assert not {f"{XHTML}script", f"{XHTML}button"} & tags


@every_site
def test_every_picture_has_its_size_and_words(name: str) -> None:
    for html in rendered(name).values():
        for image in parse(html).iter(f"{XHTML}img"):
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
    others = [html for path, html in pages.items() if path != "lessons/hidden/index.html"]
    assert not any("hidden" in "".join(hrefs_of(parse(html))) for html in others)


def test_a_picture_that_is_not_there_is_a_hatched_frame_with_its_words() -> None:
    pages = pages_of(factory.bound(factory.whole_lesson()), PictureBook({}))
    page = parse(pages["lessons/pelvis/index.html"])
    assert not list(page.iter(f"{XHTML}img"))
    absent = [p for p in page.iter(f"{XHTML}p") if p.get("class") == "absent"]
    assert len(absent) == 5
    assert "Face-on at setup." in (absent[0].text or "")


def test_the_page_for_what_is_not_found_carries_its_styles_and_links_by_address() -> None:
    html = pages_of(factory.bound())["404.html"]
    assert "<style>" in html
    assert 'href="https://saltmarsh.example/notebook/index.html"' in html


def test_without_an_address_the_page_for_what_is_not_found_links_relatively() -> None:
    html = pages_of(factory.bound(url=None))["404.html"]
    assert 'href="index.html"' in html
    assert "canonical" not in html
