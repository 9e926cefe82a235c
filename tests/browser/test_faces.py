"""Text does not move when the theme's faces come: the faces before them are of the same width and height."""

from __future__ import annotations

import base64
import mimetypes
from collections.abc import Iterator
from dataclasses import dataclass, field
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Page, Route

from tests.pages import factory
from tests.pages.sites import THEME, pages_of, weekly

HOST = "http://notebook.example/"
PIXEL = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
)
# Half of what counts as good, 0.1: a paragraph may still break its lines elsewhere. Source: Web
# Vitals, Cumulative Layout Shift (from memory).
STEADY = 0.05
_WATCH = """
    window.shifts = 0;
    new PerformanceObserver(list => list.getEntries().forEach(entry => { window.shifts += entry.value; }))
        .observe({type: "layout-shift", buffered: true});
"""
# asked at each picture by the page itself: its policy lets no string be waited for
_PAINTED = """() => new Promise(done => {
    const look = () => performance.getEntriesByName("first-contentful-paint").length
        ? done() : requestAnimationFrame(look);
    look();
})"""
_TWO_PICTURES = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"


@dataclass
class _Host:
    """Serves a site from memory and keeps its fonts back until `release`."""

    files: dict[str, bytes]
    held: list[Route] = field(default_factory=list)

    def answer(self, route: Route) -> None:
        path = unquote(urlsplit(route.request.url).path).lstrip("/")
        if path.endswith(".woff2"):
            self.held.append(route)
        elif path.endswith(".webp"):
            route.fulfill(body=PIXEL, content_type="image/png")
        else:
            route.fulfill(body=self.files[path], content_type=_type(path))

    def release(self) -> None:
        for route in self.held:
            path = unquote(urlsplit(route.request.url).path).lstrip("/")
            route.fulfill(body=self.files[path], content_type="font/woff2")


def _type(path: str) -> str:
    return mimetypes.guess_type(path)[0] or "text/html"


@pytest.fixture
def host(page: Page) -> Iterator[_Host]:
    bound = factory.bound(factory.whole_lesson(), *weekly(9))
    pages = {path: html.encode() for path, html in pages_of(bound).items()}
    scripts = {script.path: script.content for script in THEME.scripts.values()}
    served = _Host({**pages, **THEME.files, **scripts})
    page.route(f"{HOST}**", served.answer)
    page.add_init_script(_WATCH)
    yield served
    page.unroute_all()


def _open(page: Page, path: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 740})
    page.goto(HOST + path, wait_until="domcontentloaded")
    page.evaluate(_PAINTED)
    page.evaluate(_TWO_PICTURES)


def _lesson() -> str:
    return f"lessons/{factory.whole_lesson().lesson.name}/index.html"


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("path", ["index.html", "archive/index.html", _lesson()])
def test_nothing_moves_when_the_faces_come(page: Page, host: _Host, path: str, width: int) -> None:
    """Measured by the browser itself. Source: W3C, Layout Instability."""
    _open(page, path, width)
    assert len(host.held) == 2, "both faces are asked for, and kept back"
    host.release()
    page.evaluate("document.fonts.ready.then(() => 0)")
    page.evaluate(_TWO_PICTURES)
    assert page.evaluate("document.fonts.check('600 20px Vollkorn')")
    assert page.evaluate("window.shifts") < STEADY


@pytest.mark.parametrize("width", [360, 390])
def test_the_head_of_a_page_is_one_line_on_a_phone(page: Page, host: _Host, width: int) -> None:
    _open(page, _lesson(), width)
    tops = "() => [...document.querySelectorAll('.masthead a')].map(a => a.getBoundingClientRect().top)"
    before = page.evaluate(tops)
    host.release()
    page.evaluate("document.fonts.ready.then(() => 0)")
    assert len(set(before)) == 1, before
    assert len(set(page.evaluate(tops))) == 1
