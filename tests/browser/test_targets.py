"""What can be touched is large enough, and apart from its neighbours."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.pages import factory
from tests.pages.sites import THEME, pages_of, weekly

_BOXES = """() => [...document.querySelectorAll(".index li > span a")].map(link => {
    const box = link.getBoundingClientRect();
    return [box.left, box.top, box.right, box.bottom];
})"""


@pytest.mark.parametrize("width", [360, 1440])
def test_the_numbers_of_the_index_can_be_touched_one_by_one(page: Page, tmp_path: Path, width: int) -> None:
    """At least 24 CSS px each way. Source: WCAG 2.2, 2.5.8 Target Size (Minimum)."""
    bound = factory.bound(*weekly(12, topics=("pelvis", "hub")))
    files = {path: html.encode() for path, html in pages_of(bound).items()} | dict(THEME.files)
    for path, content in files.items():
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_bytes(content)
    page.set_viewport_size({"width": width, "height": 800})
    page.goto((tmp_path / "topics" / "index.html").as_uri())
    page.evaluate("document.fonts.ready.then(() => 0)")
    boxes = page.evaluate(_BOXES)
    assert len(boxes) == 16
    assert min(min(right - left, bottom - top) for left, top, right, bottom in boxes) >= 24
    for one, other in combinations(boxes, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)
