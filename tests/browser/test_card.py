"""A lesson's card on paper, as a reader prints it: one sheet, whole, with a code that a phone can read."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import cv2
import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from lessonpress.intake import start_site
from lessonpress.press.progress import Silent
from lessonpress.press.run import press

URL = "https://notebook.example/swings/"
LESSON = "lessons/first-lesson/"
CARD = f"{LESSON}card/index.html"
LONG = "lessons/long/card/index.html"
_PAGE = re.compile(rb"/Type\s*/Page\b(?!s)")  # the object of a page: ISO 32000-1, 7.7.3.3
# where what stands one below the other on the sheet ends and begins, px
_EDGES = """() => {
    const edges = of => [...document.querySelectorAll(of)].map(one => one.getBoundingClientRect());
    const bottoms = edges(".card-middle > *, .card-when, .card-note").map(one => one.bottom);
    return [Math.max(...bottoms), Math.min(...edges(".card-boxes > *").map(one => one.top))];
}"""


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The starter with an address, and with a second lesson whose drill is too long for a sheet."""
    root = tmp_path_factory.mktemp("card") / "notebook"
    start_site(root)
    site = root / "site.yaml"
    site.write_text(re.sub(r"# url: .*", f"url: {URL}", site.read_text(encoding="utf-8")), encoding="utf-8")
    own = (root / LESSON.rstrip("/")).with_suffix(".md").read_text(encoding="utf-8")
    long = own.replace("3. Ten times.", "3. Ten times.\n" + "4. Wait there for a breath, and go on.\n" * 20)
    assert long != own
    (root / "lessons" / "long.md").write_text(long, encoding="utf-8")
    done = press(root, root / "out", Silent())
    assert done.summary is not None, done.problems.errors
    return root / "out"


@pytest.fixture(scope="module")
def page(chromium: Browser, out: Path) -> Iterator[Page]:
    """The card, as it is on paper."""
    with chromium.new_page(viewport={"width": 703, "height": 960}, device_scale_factor=2) as page:
        page.emulate_media(media="print")
        page.goto(f"{out.as_uri()}/{CARD}")
        page.evaluate("document.fonts.ready")
        yield page


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_card_is_one_sheet(paper: str, page: Page) -> None:
    assert len(_PAGE.findall(page.pdf(format=paper))) == 1


def test_nothing_on_a_card_lies_over_another(page: Page) -> None:
    above, boxes = page.evaluate(_EDGES)
    assert above <= boxes


def test_a_phone_reads_the_address_of_the_lesson(page: Page) -> None:
    """Read by OpenCV's own detector from what is printed."""
    picture = np.frombuffer(page.locator(".code").screenshot(), np.uint8)
    read, _, _ = cv2.QRCodeDetector().detectAndDecode(cv2.imdecode(picture, cv2.IMREAD_GRAYSCALE))
    assert read == URL + LESSON
    assert page.locator(".card-foot a").get_attribute("href") == read


def test_a_card_has_the_plate_three_numbers_and_the_drill_after_its_caution(page: Page) -> None:
    assert page.locator(".card .pic img").count() == 1
    assert page.locator(".card-numbers tbody tr").count() == 3
    boxes = page.locator(".card-boxes > section")
    assert [box.get_attribute("class") for box in boxes.all()] == ["caution", "drill"]


def test_a_drill_too_long_for_the_sheet_is_left_to_the_page_with_its_caution(out: Path) -> None:
    card = (out / LONG).read_text(encoding="utf-8")
    assert 'class="drill"' not in card and 'class="caution"' not in card
    assert "card-left-out" in card


def test_a_card_is_linked_from_its_lesson_and_kept_from_search_engines(out: Path) -> None:
    assert 'href="card/index.html"' in (out / LESSON / "index.html").read_text(encoding="utf-8")
    assert '<meta name="robots" content="noindex">' in (out / CARD).read_text(encoding="utf-8")
    assert "/card/" not in (out / "sitemap.xml").read_text(encoding="utf-8")


def test_what_scripts_add_is_not_printed(page: Page, out: Path) -> None:
    page.goto(f"{out.as_uri()}/{LESSON}index.html")
    page.evaluate("for (const one of document.querySelectorAll('.controls, .tray')) one.hidden = false")
    for added in page.locator(".controls, .tray, dialog, .card-link").all():
        assert not added.is_visible()
