"""Kinds of pages that the demo has none of: a year of long ago, a long topic, a redirect, a withdrawal."""

from __future__ import annotations

from collections.abc import Iterator

import html5lib
import pytest
from playwright.sync_api import Browser, Page

from lessonpress.pages import PageContext, withdrawn_note
from tests.browser.axe import COLOURS, broken_rules
from tests.browser.host import hosted
from tests.pages import factory
from tests.pages.rendering import render_site
from tests.pages.sites import THEME, book_of, weekly

NOTE = "lessons/withdrawn/index.html"
FORMER = "lessons/hips/index.html"
YEAR = "archive/2024/index.html"
PAGES = ("archive/index.html", YEAR, "topics/hub/index.html", FORMER, NOTE)


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    """Of a site of 261 lessons: what is looked at here, and where it leads."""
    lesson = factory.bare_lesson("pelvis", former=("lessons/hips",))
    bound = factory.bound(lesson, *weekly(260, topics=("hub",)))
    made = dict(render_site(bound, book_of(bound), THEME))
    context = PageContext(bound, book_of(bound), THEME, THEME.words("en"))
    path, note = withdrawn_note(NOTE, context)
    return {**made, path: note, "site.webmanifest": b"{}", "offline.js": b""}


@pytest.fixture(scope="module")
def address(files: dict[str, bytes], tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("kinds")
    for path, content in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    with hosted(folder) as address:
        yield address


@pytest.mark.parametrize("path", PAGES)
def test_each_is_sound_lets_only_its_own_scripts_run_and_is_accessible(
    page: Page, files: dict[str, bytes], address: str, path: str
) -> None:
    """WHATWG HTML, 13.2, by html5lib; CSP Level 3, 3.3; WCAG 2.2 A and AA by axe-core, light and dark."""
    html5lib.HTMLParser(strict=True).parse(files[path])
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.set_viewport_size({"width": 320, "height": 800})
    # The redirect stays in view: an answer without content leaves a page where it is (RFC 9110, 15.3.5).
    page.route(f"{address}lessons/pelvis/**", lambda route: route.fulfill(status=204))
    page.goto(address + path)
    page.wait_for_load_state("networkidle")
    policy = page.locator("meta[http-equiv=content-security-policy]").get_attribute("content") or ""
    assert "script-src 'self'" in policy and "unsafe-inline" not in policy
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    # The redirect has the browser's own colours, whose dark ground axe takes for white.
    for scheme in ("light",) if path == FORMER else ("light", "dark"):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        assert broken_rules(page, f"{path}, {scheme}", kin=COLOURS if scheme == "dark" else "") == []
    assert said == []
    assert page.url == address + path


def test_each_says_without_scripts_what_it_has_to_say(chromium: Browser, address: str) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address + YEAR)
    assert page.locator(".rows li").count() == 52
    page.goto(address + NOTE)
    assert page.get_by_role("heading", level=1).is_visible()
    page.goto(address + FORMER)
    page.wait_for_url(f"{address}lessons/pelvis/index.html")
    page.goto(address + "topics/hub/index.html")
    assert page.locator(".entries li").count() == 12  # a lesson of the factory has the topic too
    assert page.locator(".rows li").count() == 260 - 11
    context.close()
