"""How pages are laid out on a phone, a tablet and a desk, by the places of things on the screen."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import PressedSite

WIDTHS = (412, 768, 1440)
ROOM = 1.0  # CSS px of rounding
# Bringhurst, The Elements of Typographic Style, 2.1.2: 45 to 75 characters a line, 66 at best
MOST_CHARACTERS = 75
MOST_ON_AVERAGE = 70

_STRIPS = """() => [...document.querySelectorAll(".plate.strip")].map(plate => {
    const box = element => {
        const r = element.getBoundingClientRect();
        return [r.left, r.top, r.right, r.bottom];
    };
    return {
        id: plate.id,
        pictures: [...plate.querySelectorAll(".pic")].map(box),
        keys: [...plate.querySelectorAll(".keys")].map(box),
    };
})"""
# of the list of contents: whether each line is in sight, and what it says
_CONTENTS = """() => [...document.querySelectorAll(".contents a")].map(
    line => [line.checkVisibility({ visibilityProperty: true }) && line.getClientRects().length > 0,
             line.innerText])"""
# characters of each whole line of running text: of a paragraph's lines all but the last
_LINES = """() => [
    ...document.querySelectorAll(".prose > p, .caption p, .caution p, .gloss > div"),
].flatMap(text => {
    const lines = [];
    const walk = document.createTreeWalker(text, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
        for (let at = 0; at < node.length; at += 1) {
            const range = document.createRange();
            range.setStart(node, at);
            range.setEnd(node, at + 1);
            const { left, width } = range.getBoundingClientRect();
            if (!width) continue;
            const last = lines.at(-1);
            if (!last || left < last.left - 1) lines.push({ left, count: 1 });
            else { last.left = left; last.count += 1; }
        }
    }
    return lines.slice(0, -1).map(line => line.count);
})"""


@dataclass(frozen=True)
class _Laid:
    """A lesson's page as it is laid out: see the scripts above."""

    path: str
    strips: list[dict[str, Any]]
    lines: list[int]
    contents: list[tuple[bool, str]]


@pytest.fixture(scope="module")
def laid(chromium: Browser, demo: PressedSite) -> dict[int, list[_Laid]]:
    """Every lesson that the demo lists, opened once, at each width."""
    found: dict[int, list[_Laid]] = {width: [] for width in WIDTHS}
    with chromium.new_page() as page:
        for path in _listed(demo):
            page.goto(f"{demo.folder.as_uri()}/{path}")
            page.evaluate("document.fonts.ready.then(() => 0)")
            for width in WIDTHS:
                page.set_viewport_size({"width": width, "height": 900})
                found[width].append(_laid(page, path))
    return found


@pytest.fixture(scope="module", params=WIDTHS)
def lessons(request: pytest.FixtureRequest, laid: dict[int, list[_Laid]]) -> list[_Laid]:
    return laid[request.param]


def _listed(demo: PressedSite) -> list[str]:
    """The handbook's pages are the same parts again."""
    lessons = [bound.lesson for bound in demo.bound.lessons if bound.lesson.listed]
    assert len(lessons) > 6
    return [f"lessons/{lesson.name}/index.html" for lesson in lessons]


def _laid(page: Page, path: str) -> _Laid:
    return _Laid(path, page.evaluate(_STRIPS), page.evaluate(_LINES), page.evaluate(_CONTENTS))


def test_strips_are_two_abreast_below_their_key(lessons: list[_Laid]) -> None:
    seen: list[dict[str, Any]] = []
    for lesson in lessons:
        for strip in lesson.strips:
            pictures, where = strip["pictures"], f"{lesson.path} {strip['id']}"
            for left, right in zip(pictures[::2], pictures[1::2], strict=False):
                assert left[2] <= right[0], where
                assert abs(left[1] - right[1]) <= ROOM and abs(left[3] - right[3]) <= ROOM, where
            assert all(key[3] <= pictures[0][1] for key in strip["keys"]), where
            seen.append(strip)
    assert len(seen) >= 4


def test_lines_of_text_are_no_longer_than_reads_well(lessons: list[_Laid]) -> None:
    assert any(lesson.lines for lesson in lessons)
    for lesson in lessons:
        assert max(lesson.lines, default=0) <= MOST_CHARACTERS, lesson.path
        assert not lesson.lines or sum(lesson.lines) / len(lesson.lines) <= MOST_ON_AVERAGE, lesson.path


def test_contents_are_in_sight_and_say_what_each_plate_shows(lessons: list[_Laid]) -> None:
    bare = {"Setup", "Top", "Delivery", "Impact", "Finish", "Drill"}
    assert any(lesson.contents for lesson in lessons)
    for lesson in lessons:
        for is_visible, name in lesson.contents:
            assert is_visible, lesson.path
            assert name not in bare, lesson.path


@pytest.mark.parametrize("width", [360, 412, 768])
def test_the_head_of_a_page_is_one_line(page: Page, demo: PressedSite, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.goto((demo.folder / "index.html").as_uri())
    page.evaluate("document.fonts.ready")
    name = page.locator(".masthead .name span").evaluate(
        "text => { const r = document.createRange(); r.selectNodeContents(text);"
        " return new Set([...r.getClientRects()].map(line => Math.round(line.top))).size; }"
    )
    tops = page.locator(".masthead a").evaluate_all("all => all.map(a => a.getBoundingClientRect().top)")
    assert name == 1
    assert max(tops) - min(tops) <= ROOM


SHEETS = 8  # of A4 for a lesson with five plates and fourteen numbers; it took 13 with a plate a sheet
THIRD_OF_A_SHEET = 267 / 3 * 96 / 25.4  # CSS px, within margins of 15 mm


def test_a_lesson_is_printed_on_few_sheets(page: Page, demo: PressedSite) -> None:
    """Pages are counted as PDF 32000-1, 7.7.3.3 names them: objects of the type Page."""
    page.goto((demo.folder / "lessons" / "the-pelvis-travels" / "index.html").as_uri())
    page.evaluate("document.fonts.ready")
    printed = page.pdf(format="A4")
    assert 4 <= len(re.findall(rb"/Type\s*/Page\b(?!s)", printed)) <= SHEETS


def test_printed_plates_are_low_enough_to_fill_sheets(page: Page, demo: PressedSite) -> None:
    """What may not be broken over two sheets leaves that much of one empty at the most."""
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 680, "height": 1009})  # A4 within margins of 15 mm
    count = 0
    for path in _listed(demo):
        page.goto(f"{demo.folder.as_uri()}/{path}")
        page.evaluate("document.fonts.ready")
        heights = page.locator(".plate .frames").evaluate_all(
            "all => all.map(one => one.getBoundingClientRect().height)"
        )
        count += len(heights)
        assert max(heights, default=0) <= 1.5 * THIRD_OF_A_SHEET, path
    assert count
