"""A pressed site opens from disk and from a sub-folder, whole, and is accessible.

What pages of a kind have in common is tried on a few that have everything; ALL_PAGES in the environment tries
it on all.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Collection, Iterator
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, Request, Route

from tests.browser.axe import COLOURS, broken_rules
from tests.browser.conftest import PressedSite

# and for the faces: a page left while they load counts them as failed; what lies far below is laid out too
_WAIT_FOR_PICTURES = """() => {
  for (const part of document.querySelectorAll(".body > *")) part.style.contentVisibility = "visible";
  return document.fonts.ready.then(() => Promise.all([...document.images].map(picture => {
    picture.loading = "eager";
    return picture.decode().then(() => "", () => picture.src);
  })));
}"""


WIDTHS = (1440, 768, 412, 360)  # CSS px
NARROWEST = 320  # CSS px


def _few(site: PressedSite, other: PressedSite | None = None) -> Collection[str]:
    """The pages to try what is alike on all of a kind; of those alone that `other` has not."""
    return site.pages if os.environ.get("ALL_PAGES") else site.kinds_of_pages(other)


def _watched(page: Page) -> list[str]:
    """Fills up with everything that goes wrong while pages load."""
    wrong: list[str] = []
    page.on("requestfailed", lambda one: None if _is_left(one) else wrong.append(f"failed: {one.url}"))
    page.on("response", lambda got: wrong.append(f"{got.status}: {got.url}") if got.status >= 400 else None)
    page.on("pageerror", lambda error: wrong.append(f"script: {error}"))
    page.on("console", lambda said: wrong.append(f"console: {said.text}") if _is_a_fault(said) else None)
    return wrong


def _is_left(request: Request) -> bool:
    """Whether the page was left for the next while a picture far below was on its way."""
    return request.failure == "net::ERR_ABORTED" and request.resource_type == "image"


def _is_a_fault(said: ConsoleMessage) -> bool:
    """What does not load is seen by its response; the console would add the host's own favicon.ico."""
    return said.type == "error" and "Failed to load resource" not in said.text


def _open_each(
    page: Page, base: str, paths: Collection[str], seen: Callable[[str], None] = lambda _: None
) -> list[str]:
    """Everything that goes wrong while each page is opened; `seen` is called with the page's path on each."""
    wrong = _watched(page)
    for path in paths:
        if path == "404.html":  # is written for the site's own address, where it will be served from
            continue
        page.goto(base + path)
        wrong += [f"picture: {source}" for source in page.evaluate(_WAIT_FOR_PICTURES) if source]
        seen(path)
    return wrong


def _at_its_address(page: Page, site: PressedSite) -> str:
    """Gives the site's files at the path that its `url` names: the page for what is not found links there."""
    root = urlsplit(site.bound.site.url or "").path.rstrip("/") + "/"

    def give(route: Route) -> None:
        file = site.folder / unquote(urlsplit(route.request.url).path.removeprefix(root))
        if file.is_file():
            route.fulfill(path=file)
        else:
            route.fulfill(status=404)

    page.route("http://notebook.example/**", give)
    return f"http://notebook.example{root}"


def test_a_site_opens_from_disk_with_everything_but_its_scripts(
    from_disk: tuple[tuple[str, ...], list[str]],
) -> None:
    """A browser takes modules from a host only, and says so of each."""
    wrong, _ = from_disk
    modules = re.compile(r"failed: file:.*\.js$|console: Access to script at 'file:.* from origin 'null'")
    assert [one for one in wrong if not modules.match(one)] == []


def test_the_demo_opens_from_a_sub_folder_of_a_server(
    page: Page, demo: PressedSite, address_of_demo: str
) -> None:
    """What it is made of is the same as from disk, but for its scripts."""
    assert _open_each(page, address_of_demo, _few(demo)) == []


def test_no_page_breaks_a_rule_of_wcag_that_a_machine_can_check(
    chromium: Browser, demo: PressedSite, drawn: PressedSite
) -> None:
    """And best practice, by axe-core; in the dark the rules that ask for colours."""
    broken = []
    for site, other in ((demo, None), (drawn, demo)):
        with chromium.new_page(reduced_motion="reduce") as page:
            base = _at_its_address(page, site)
            for path in _few(site, other):
                page.goto(base + path)
                page.emulate_media(color_scheme="light")
                broken += broken_rules(page, path)
                page.emulate_media(color_scheme="dark")
                broken += broken_rules(page, f"{path} in the dark", kin=COLOURS)
    assert broken == []


def test_no_page_is_wider_than_the_screen(from_disk: tuple[tuple[str, ...], list[str]]) -> None:
    """WCAG 2.2, 1.4.10 (reflow): no scrolling in two directions, down to 320 CSS px."""
    _, wide = from_disk
    assert wide == []


@pytest.fixture(scope="module")
def from_disk(chromium: Browser, site: PressedSite) -> Iterator[tuple[tuple[str, ...], list[str]]]:
    """Each page opened once from disk: what went wrong, and which is wider than which screen.

    All are held to the narrowest screen, where words and tables run over first, and a few to all.
    """
    page = chromium.new_page(reduced_motion="reduce", viewport={"width": NARROWEST, "height": 800})
    wide, few = [], _few(site)

    def measure(path: str) -> None:
        for width in (*WIDTHS, NARROWEST) if path in few else (NARROWEST,):
            page.set_viewport_size({"width": width, "height": 800})
            if page.evaluate("document.documentElement.scrollWidth") > width:
                wide.append(f"{path} at {width} px")

    wrong = tuple(_open_each(page, f"{site.folder.as_uri()}/", site.pages, measure))
    page.goto(f"{_at_its_address(page, site)}404.html")
    measure("404.html")
    yield wrong, wide
    page.close()
