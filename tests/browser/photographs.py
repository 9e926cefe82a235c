"""Photographs of a pressed site as a reader's browser shows it.

python -m tests.browser.photographs build/site FOLDER            every page: phone and desk, light and dark
python -m tests.browser.photographs build/site FOLDER archive    those with "archive" in their path
python -m tests.browser.photographs build/site --readme          the one picture that README shows
"""

from __future__ import annotations

import sys
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.chromium import launched
from tests.browser.host import hosted

WIDTHS = (390, 1280)  # px: a phone upright, a desk
SCHEMES = ("light", "dark")
README_LESSON = "lessons/the-pelvis-travels/index.html"
README_PICTURE = Path(__file__).with_name("lesson.jpg")
README_SIZE = (1280, 1000)
# all of a page is laid out, and all its pictures are there
LOADED = """() => {
    for (const part of document.querySelectorAll(".body > *")) part.style.contentVisibility = "visible";
    return Promise.all([...document.images].map(picture => {
        picture.loading = "eager";
        return picture.decode();
    }));
}"""


def photograph_pages(browser: Browser, site: Path, address: str, folder: Path, wanted: list[str]) -> None:
    """Each wanted page in whole, as FOLDER/PATH-WIDTH-SCHEME.png; without `wanted`, every page."""
    pages = [path for path in sorted(site.rglob("index.html")) if _is_wanted(path, site, wanted)]
    folder.mkdir(parents=True, exist_ok=True)
    for width in WIDTHS:
        for scheme in SCHEMES:
            page = browser.new_page(viewport={"width": width, "height": 900}, color_scheme=scheme)
            for path in pages:
                _opened(page, f"{address}{path.relative_to(site).as_posix()}")
                name = f"{_slug(path, site)}-{width}-{scheme}.png"
                page.screenshot(path=folder / name, full_page=True)
            page.close()


def photograph_for_readme(browser: Browser, address: str) -> None:
    """The opening of a lesson at a desk, in daylight."""
    width, height = README_SIZE
    page = browser.new_page(viewport={"width": width, "height": height}, color_scheme="light")
    _opened(page, f"{address}{README_LESSON}")
    page.screenshot(path=README_PICTURE, type="jpeg", quality=82)
    page.close()


def _opened(page: Page, address: str) -> None:
    page.goto(address)
    page.evaluate(LOADED)


def _slug(path: Path, site: Path) -> str:
    return "-".join(path.parent.relative_to(site).parts) or "home"


def _is_wanted(path: Path, site: Path, wanted: list[str]) -> bool:
    return not wanted or any(part in _slug(path, site) for part in wanted)


def main() -> None:
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    site = Path(sys.argv[1]).resolve()
    with hosted(site) as address, sync_playwright() as playwright, launched(playwright) as browser:
        if sys.argv[2] == "--readme":
            photograph_for_readme(browser, address)
        else:
            photograph_pages(browser, site, address, Path(sys.argv[2]), sys.argv[3:])


if __name__ == "__main__":
    main()
