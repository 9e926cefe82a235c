"""A reader searches: by words of a measure and an event, and sees the picture that answers, with its lines.

The starter is pressed and served from a sub-folder.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from lessonpress.intake import start_site
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.axe import broken_rules
from tests.browser.host import hosted

MORE = (
    "---\ntitle: Nothing filmed\ndate: 2026-11-20\ntopics: [grip]\n---\n\nThe grip & <b>nothing</b> else.\n"
)
LONG = " ".join(
    ["Alpha", *(f"w{n}" for n in range(75)), "milestone", *(f"w{n}" for n in range(75)), "Omega."]
)


@pytest.fixture(scope="module")
def notebook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("host") / "notebook"
    start_site(root)
    (root / "lessons" / "grip.md").write_text(MORE, encoding="utf-8")
    (root / "lessons" / "long.md").write_text(
        f"---\ntitle: Long\ndate: 2026-11-19\n---\n\nShort.\n\n{LONG}\n", encoding="utf-8"
    )
    for year, word in ((2024, "early"), (2025, "late")):
        text = f"---\ntitle: Of {year}\ndate: {year}-03-02\n---\n\nPronation comes {word}.\n"
        (root / "lessons" / f"of-{year}.md").write_text(text, encoding="utf-8")
    done = press(root, root / "out", Silent())
    assert done.summary is not None, done.problems.errors
    return root / "out"


@pytest.fixture(scope="module")
def address(notebook: Path) -> Iterator[str]:
    with hosted(notebook.parents[1]) as host:
        yield f"{host}notebook/out/search/index.html"


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    yield context.new_page()
    context.close()


def ask(page: Page, words: str) -> None:
    page.get_by_role("searchbox", name="What are you looking for?").fill(words)
    page.keyboard.press("Enter")


def test_words_of_a_measure_and_an_event_find_the_picture_with_its_lines(page: Page, address: str) -> None:
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.goto(address)
    assert not [url for url in asked if "pagefind" in url]  # only for one who asks something
    ask(page, "shift of the pelvis at impact")
    expect(page.get_by_role("status")).to_have_text("One page found for shift of the pelvis at impact.")
    one = page.locator(".found li")
    expect(one.locator(".entry-no")).to_have_text("Plate III, Impact")
    expect(one.locator(".excerpt mark").first).to_be_visible()
    expect(one.locator(".pic svg.overlay").first).to_be_visible()
    assert broken_rules(page, address) == []
    host = urlsplit(address).netloc
    assert {urlsplit(url).netloc for url in asked if not url.startswith("data:")} == {host}
    assert said == []
    one.get_by_role("link", name="The hips go farther than the neck").click()
    expect(page.locator("#plate-impact")).to_be_in_viewport()


def test_an_excerpt_says_at_either_end_that_a_sentence_goes_on(page: Page, address: str) -> None:
    """In one sentence of 150 words: in its middle, where it begins, where it ends."""
    page.goto(address)
    excerpt = page.locator(".found .excerpt")
    for word, form in (
        ("milestone", r"^… w.* w\d+ …$"),
        ("alpha", r"^Long\. Short\. Alpha.* w\d+ …$"),
        ("omega", r"^… w.*Omega\.$"),
    ):
        ask(page, word)
        expect(excerpt.locator("mark")).to_have_text(re.compile(word, re.IGNORECASE))
        expect(excerpt).to_have_text(re.compile(form))


def test_what_is_found_is_remembered_in_the_address_and_shown_as_text(page: Page, address: str) -> None:
    page.goto(address)
    ask(page, "grip")
    expect(page.locator(".found li")).to_contain_text("The grip & <b>nothing</b> else")
    assert "…" not in page.locator(".found .excerpt").inner_text()
    expect(page).to_have_url(f"{address}?q=grip")
    page.reload()
    expect(page.locator(".found a")).to_have_text("Nothing filmed")
    ask(page, "aardvark")
    expect(page.get_by_role("status")).to_have_text("Nothing found for aardvark.")
    expect(page.locator(".found li")).to_have_count(0)


def test_lessons_of_all_years_are_found_and_none_for_a_year_that_lacks_the_word(
    page: Page, address: str
) -> None:
    """Each year has an index of its own, which by itself answers with the nearest word that it has."""
    page.goto(address)
    ask(page, "pronation")
    expect(page.get_by_role("status")).to_have_text("2 pages found for pronation.")
    expect(page.locator(".found a")).to_have_text([re.compile("Of 202[45]")] * 2)
    for words, year in (("pronation early", 2024), ("of 2025", 2025)):
        ask(page, words)
        expect(page.get_by_role("status")).to_have_text(f"One page found for {words}.")
        expect(page.locator(".found a")).to_have_text([f"Of {year}"])
    ask(page, "20251")  # a number of which one that is there is the beginning
    expect(page.get_by_role("status")).to_have_text("Nothing found for 20251.")


def test_where_it_cannot_work_it_says_so_and_leads_on(
    chromium: Browser, notebook: Path, address: str
) -> None:
    """Opened from disk, and without scripts."""
    for url, scripts in (((notebook / "search" / "index.html").as_uri(), True), (address, False)):
        context = chromium.new_context(java_script_enabled=scripts)
        page = context.new_page()
        page.goto(url)
        expect(page.get_by_text("Searching needs JavaScript and a server")).to_be_visible()
        expect(page.get_by_role("searchbox")).to_be_hidden()
        expect(page.get_by_role("link", name="All plates")).to_be_visible()
        context.close()
