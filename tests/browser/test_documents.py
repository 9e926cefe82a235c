"""Every pressed page is a sound document, and everything it points to is there."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from urllib.parse import unquote, urlsplit
from xml.etree.ElementTree import Element

import html5lib
import pytest

from tests.browser.conftest import PressedSite

_POINTING = ("href", "src", "poster", "action")


@cache
def _read(file: Path) -> tuple[Element, list[str]]:
    """A page's document and what was wrong; read once, as a parser that keeps to the standard is slow."""
    parser = html5lib.HTMLParser(namespaceHTMLElements=False)
    document: Element = parser.parse(file.read_bytes())
    return document, [f"{place}: {code} {words}" for place, code, words in parser.errors]


def _parsed(file: Path) -> Element:
    return _read(file)[0]


def _ids(document: Element) -> list[str]:
    return [found for element in document.iter() if (found := element.get("id")) is not None]


def _targets(document: Element) -> Iterator[str]:
    for element in document.iter():
        for name in _POINTING:
            if (target := element.get(name)) is not None:
                yield target
        for candidate in (element.get("srcset") or "").split(","):
            if candidate.strip():
                yield candidate.split()[0]


def test_every_page_is_html_without_a_parse_error(site: PressedSite) -> None:
    """WHATWG HTML, section 13.2 (parsing), by html5lib."""
    assert len(site.pages) > 3
    for path in site.pages:
        assert _read(site.folder / path)[1] == [], path


def test_a_parse_error_is_noticed(tmp_path: Path) -> None:
    (tmp_path / "page.html").write_text("<!doctype html><title>A</title><p><b>a</p></i>", encoding="utf-8")
    assert _read(tmp_path / "page.html")[1]


def test_ids_are_unique_in_each_page(site: PressedSite) -> None:
    for path in site.pages:
        counts = Counter(_ids(_parsed(site.folder / path)))
        assert [name for name, count in counts.items() if count > 1] == [], path


def test_what_elements_refer_to_by_id_is_in_their_page(site: PressedSite) -> None:
    names = ("for", "aria-labelledby", "aria-describedby", "aria-details", "aria-controls", "headers")
    for path in site.pages:
        document = _parsed(site.folder / path)
        ids = set(_ids(document))
        for element in document.iter():
            for name in names:
                missing = set((element.get(name) or "").split()) - ids
                assert not missing, f"{path}: {name} of {element.tag} names {missing}"


def test_addresses_are_written_as_addresses(site: PressedSite) -> None:
    """RFC 3986, section 2: an address, one of `data:` too, holds no space or quote as it is."""
    for path in site.pages:
        for target in _targets(_parsed(site.folder / path)):
            assert not re.search(r'[\s"<>\\^`{|}]', target), f"{path}: {target}"


def test_every_link_and_picture_leads_to_a_file_and_a_place_in_it(site: PressedSite) -> None:
    """Only 404.html, which may be served from any depth, names its targets from the root of its host."""
    ids = {path: set(_ids(_parsed(site.folder / path))) for path in site.pages}
    for path in site.pages:
        for target in _targets(_parsed(site.folder / path)):
            parts = urlsplit(target)
            if parts.scheme or parts.netloc:
                continue
            if path == "404.html" and parts.path.startswith("/"):
                root = urlsplit(site.bound.site.url or "").path.rstrip("/") + "/"
                assert parts.path.startswith(root), f"{path}: {target} is not in the site"
                file = site.folder / unquote(parts.path.removeprefix(root))
            else:
                assert not parts.path.startswith("/"), f"{path}: {target} works at a host's root only"
                file = (site.folder / path).parent / unquote(parts.path) if parts.path else site.folder / path
            assert file.is_file(), f"{path}: {target} leads nowhere"
            if parts.fragment and file.suffix == ".html":
                name = str(file.resolve().relative_to(site.folder.resolve()))
                assert unquote(parts.fragment) in ids[name], f"{path}: {target} is not in {name}"


@pytest.mark.parametrize("attribute", ["alt", "width", "height"])
def test_every_picture_has_words_and_a_size(site: PressedSite, attribute: str) -> None:
    for lesson, path in zip(site.bound.lessons, site.lesson_pages, strict=True):
        pictures = list(_parsed(site.folder / path).iter("img"))
        stills = [panel for plate in lesson.plates if plate.loop is None for panel in plate.panels]
        assert len(pictures) >= len(stills), path
        assert all(picture.get(attribute) for picture in pictures), path
