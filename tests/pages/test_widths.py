"""Pages at the widths of phones, tablets and desks, as the system's Chromium lays them out."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page

from lessonpress.pages import wanted_shots
from tests.pages.rendering import render_site
from tests.pages.sites import SITES, THEME, book_of

PAGES = (
    ("a whole lesson among others", "index.html"),
    ("a whole lesson among others", "lessons/pelvis/index.html"),
    ("a whole lesson among others", "lessons/two-swings/index.html"),
    ("a whole lesson among others", "lessons/autumn/index.html"),
    ("long titles", "index.html"),
    ("long titles", "lessons/pelvis/index.html"),
    ("many topics", "topics/index.html"),
)
# each visible piece of lettering on pictures: its size in CSS px as shown
LETTERING = """() => [...document.querySelectorAll('.ov text, .ov tspan, .bar text')]
    .filter(text => text.getClientRects().length && text.textContent.trim())
    .map(text => parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a)"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sites rendered, with plain grey for every picture."""
    base = tmp_path_factory.mktemp("widths")
    for name in {name for name, _ in PAGES}:
        book = book_of(SITES[name])
        for path, content in render_site(SITES[name], book, THEME):
            write(base / name / path, content)
        for file in {file for want in wanted_shots(SITES[name]) for file in book.of(want.shot)}:
            grey = io.BytesIO()
            Image.new("L", (file.width, file.height), 128).save(grey, "WEBP")
            write(base / name / file.href, grey.getvalue())
    return base


def write(place: Path, content: bytes) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(content)


@pytest.mark.parametrize("width", [320, 390, 760, 960, 1440])
def test_no_page_scrolls_sideways(folder: Path, page: Page, width: int) -> None:
    """WCAG 2.2, 1.4.10 Reflow: no scrolling in two dimensions at 320 CSS px; wider all the more."""
    page.set_viewport_size({"width": width, "height": 900})
    for name, path in PAGES:
        page.goto((folder / name / path).as_uri())
        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert over <= 0, (name, path)


@pytest.mark.parametrize("width", [360, 390, 760, 960, 1280])
def test_lettering_on_plates_is_never_under_12_px(folder: Path, page: Page, width: int) -> None:
    """Of the looks: nothing on a plate is lettered smaller than 12 CSS px from a phone of 360 px upward."""
    page.set_viewport_size({"width": width, "height": 900})
    for name, path in PAGES[:2]:
        page.goto((folder / name / path).as_uri())
        sizes = page.evaluate(LETTERING)
        assert sizes
        assert min(sizes) >= 11.95, path
