"""The last look at the desk: a finding opened where it is, answered, and an earlier text brought back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.axe import WCAG, broken_rules
from tests.desk.browser.conftest import Author, author_at, bare_site

LESSON = """\
---
title: Turning
date: 2026-11-23
summary: A turn.
---

Turn slowly.

This swing protects your back.
"""
SELECTED = """(words) => {
    const one = document.querySelector("#text");
    return one?.value.slice(one.selectionStart, one.selectionEnd) === words;
}"""


@pytest.fixture
def notebook(tmp_path: Path) -> Path:
    site = bare_site(tmp_path / "notebook")
    (site / "lessons/turning.md").write_text(LESSON, encoding="utf-8")
    return site


@pytest.fixture
def author(notebook: Path, desk_page: Page) -> Iterator[Author]:
    with author_at(notebook, desk_page) as made:
        yield made


def test_a_finding_is_opened_answered_and_an_earlier_text_brought_back(
    author: Author, notebook: Path
) -> None:
    page, lesson = author.page, notebook / "lessons/turning.md"
    author.click(page.get_by_role("link", name="Last look"))
    severe = page.locator(".findings li.severe")
    expect(severe).to_contain_text("`protects your back` is a claim about health")
    expect(page.locator(".last-look h1")).to_have_text("One finding")
    assert broken_rules(page, "last look", rules=WCAG) == []

    author.click(severe.get_by_role("link", name="lessons/turning.md:9:12"))
    page.locator("main[data-open=lesson]").wait_for()
    page.wait_for_function(SELECTED, arg="This swing protects your back.")

    page.go_back()
    author.click(page.get_by_role("button", name="It is meant so"))
    author.type(page.get_by_label("Why"), "a claim of another, refuted below")
    author.key("Enter")
    expect(page.locator(".last-look h1")).to_have_text("Nothing found")
    assert "refuted below" in lesson.read_text(encoding="utf-8")
    author.click(page.get_by_role("button", name="Look again"))
    expect(page.locator("#told")).to_have_text("Looked again.")
    expect(page.locator(".last-look summary")).to_have_text("Answered: 1")

    author.click(page.get_by_role("link", name="Contents", exact=True))
    author.click(page.get_by_role("link", name="Earlier texts"))
    author.click(page.get_by_role("button", name="See what would change"))
    expect(page.locator(".difference .go").first).to_contain_text("−meant:")
    assert broken_rules(page, "what would change", rules=WCAG) == []
    author.click(page.get_by_role("button", name="Bring it back"))
    expect(page.locator(".saves h1")).to_have_text("Two saves")
    assert lesson.read_text(encoding="utf-8") == LESSON
