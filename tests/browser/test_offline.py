"""The site without a network: what was read and asked for opens whole, and what the author took back is gone.

One small site is pressed and served from a sub-folder, then changed, pressed again and served from there.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from lessonpress.intake import start_site
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.axe import broken_rules
from tests.browser.host import hosted

LESSON = "lessons/first-lesson/index.html"
OTHER = "lessons/other/index.html"
STRIP = """
```strip
id: all
frames: [setup, top, impact]
draw:
  - vertical: pelvis
```
"""
WORDS = "---\ntitle: Only words\ndate: 2026-11-20\nlisted: false\n---\n\nNothing is filmed here.\n"
SERIES = "series: First weeks\n"
SECOND = f"---\ntitle: Second\ndate: 2026-11-25\n{SERIES}---\n\nOnly words too.\n"
_UNDECODED = """() => Promise.all([...document.images].map(picture => {
    picture.loading = "eager";
    return picture.decode().then(() => "", () => picture.currentSrc || picture.src);
})).then(all => all.filter(Boolean))"""
_CACHES = "() => caches.keys()"
# Until the browser has let go of these caches: of the site's shell and of lessons.
_GONE = """async before => {
    const left = now => now.some(name => before.includes(name) && / (shell|lesson) /.test(name));
    while (left(await caches.keys())) await new Promise(resolve => setTimeout(resolve, 50));
}"""


@dataclass(frozen=True)
class Notebook:
    root: Path
    address: str

    @property
    def out(self) -> Path:
        return self.root / "out"

    def press(self) -> None:
        done = press(self.root, self.out, Silent())
        assert done.summary is not None, done.problems.errors

    def write(self, name: str, content: str) -> None:
        (self.root / "lessons" / f"{name}.md").write_text(content, encoding="utf-8")

    def read(self, name: str) -> str:
        return (self.root / "lessons" / f"{name}.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def notebook(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Notebook]:
    root = tmp_path_factory.mktemp("host") / "notebook"
    start_site(root)
    with hosted(root.parent) as address:
        made = Notebook(root, f"{address}notebook/out/")
        made.write("first-lesson", made.read("first-lesson") + STRIP)
        made.write("first-lesson", made.read("first-lesson").replace("\nclip:", f"\n{SERIES}clip:", 1))
        made.write("other", WORDS)
        made.write("second", SECOND)
        made.press()
        yield made


@pytest.fixture
def context(chromium: Browser) -> Iterator[BrowserContext]:
    made = chromium.new_context(viewport={"width": 412, "height": 915})
    yield made
    made.close()


def visit(page: Page, notebook: Notebook, path: str) -> None:
    """Opens a lesson and waits until it is kept."""
    page.goto(notebook.address + path)
    expect(page.locator(".keep:not(.whole) [role=status]")).to_contain_text("Kept")


def test_without_a_network_a_visited_lesson_is_whole_and_another_page_says_what_there_is(
    context: BrowserContext, notebook: Notebook
) -> None:
    page = context.new_page()
    visit(page, notebook, LESSON)
    context.set_offline(True)
    page.reload()
    assert page.evaluate(_UNDECODED) == []
    page.locator(".steps [data-does=on]").click()
    expect(page.locator(".steps .count")).to_have_text("2 of 3")
    expect(page.locator(".strip .panel:visible")).to_contain_text("Top")
    picture = page.locator(".strip .panel:visible img")
    expect(picture).to_have_js_property("complete", True)
    expect(picture).not_to_have_js_property("naturalWidth", 0)
    page.set_viewport_size({"width": 1440, "height": 900})  # where a wider picture would be asked for
    page.reload()
    assert page.evaluate(_UNDECODED) == []
    page.goto(notebook.address + OTHER)
    expect(page.get_by_text("is not kept here")).to_be_visible()
    expect(page.locator(".kept li a")).to_have_text(["The hips go farther than the neck"])
    page.goto(notebook.address)
    expect(page.locator("h1, h2").first).to_be_visible()


def test_a_lesson_that_was_asked_for_stays_until_it_is_let_go_of(
    context: BrowserContext, notebook: Notebook
) -> None:
    page = context.new_page()
    visit(page, notebook, OTHER)
    keep(page)
    expect(page.get_by_role("button", name="Let go")).to_be_focused()
    assert broken_rules(page, page.url) == []
    page.goto(notebook.address + "settings/index.html")
    line = page.locator(".kept li")
    expect(line).to_contain_text("Only words")
    size = (notebook.out / OTHER).stat().st_size
    expect(line).to_contain_text(f"{size / 1000:.0f} kB")
    assert broken_rules(page, page.url) == []
    line.get_by_role("button").click()
    expect(page.get_by_text("No lesson is kept.")).to_be_visible()
    assert not [name for name in page.evaluate(_CACHES) if " lesson " in name]


def test_a_series_is_kept_whole_and_let_go_of(context: BrowserContext, notebook: Notebook) -> None:
    page = context.new_page()
    page.goto(notebook.address + LESSON)
    series = page.get_by_role("navigation", name="Series: First weeks")
    series.get_by_role("button", name="Keep the whole series").click()
    expect(series.get_by_role("status")).to_contain_text("All 2 lessons are kept")
    expect(series.get_by_role("button", name="Let go")).to_be_focused()
    expect(page.locator(".keep:not(.whole) [role=status]")).to_contain_text("until you let go")
    assert broken_rules(page, page.url) == []
    context.set_offline(True)
    series.get_by_role("link", name="Second").click()
    expect(page.locator("h1")).to_have_text("Second")
    series.get_by_role("button", name="Let go").click()
    expect(series.get_by_role("button", name="Keep the whole series")).to_be_visible()
    assert not [name for name in page.evaluate(_CACHES) if " lesson " in name]


def test_a_lesson_of_which_a_file_is_not_as_pressed_is_not_kept_at_all(
    context: BrowserContext, notebook: Notebook
) -> None:
    """A host in the middle of an upload: the page is another than the list says."""
    context.route(
        f"**/{OTHER}", lambda route: route.fulfill(body=altered(notebook), content_type="text/html")
    )
    page = context.new_page()
    page.goto(notebook.address + OTHER)
    page.get_by_role("button", name="Keep this lesson").click()
    expect(page.locator(".keep:not(.whole) [role=status]")).to_contain_text("could not be fetched whole")
    assert not [name for name in page.evaluate(_CACHES) if " lesson " in name]


def keep(page: Page) -> None:
    """Asks for the lesson on the page to be kept, and waits until it is."""
    page.get_by_role("button", name="Keep this lesson").click()
    expect(page.locator(".keep:not(.whole) [role=status]")).to_contain_text("until you let go")


def altered(notebook: Notebook) -> str:
    return (notebook.out / OTHER).read_text(encoding="utf-8").replace("Nothing is", "Something is")


def test_after_a_new_press_only_the_new_is_read_and_what_was_taken_back_is_gone(
    context: BrowserContext, notebook: Notebook
) -> None:
    page = context.new_page()
    visit(page, notebook, OTHER)
    keep(page)
    visit(page, notebook, LESSON)
    before = page.evaluate(_CACHES)
    context.set_offline(True)
    text = notebook.read("first-lesson")
    notebook.write("first-lesson", text.replace("frames: [setup, top, impact]", "frames: [setup, impact]"))
    (notebook.root / "lessons" / "other.md").unlink()
    notebook.press()
    page.reload()
    expect(page.locator(".steps .count")).to_have_text("1 of 3")
    assert page.evaluate(_UNDECODED) == [], "the old one is still whole"
    context.set_offline(False)
    page.goto(notebook.address + LESSON)
    expect(page.locator(".steps .count")).to_have_text("1 of 2")
    page.evaluate(_GONE, before)
    visit(page, notebook, LESSON)
    context.set_offline(True)
    page.reload()
    expect(page.locator(".steps .count")).to_have_text("1 of 2")
    assert page.evaluate(_UNDECODED) == []
    page.goto(notebook.address + OTHER)
    expect(page.get_by_text("is not kept here")).to_be_visible()
    expect(page.locator(".kept li a")).to_have_count(1)


def test_a_page_that_the_host_says_is_gone_is_kept_no_longer(
    context: BrowserContext, notebook: Notebook
) -> None:
    """Status 410 (RFC 9110, 15.5.11), before any new press is seen."""
    page = context.new_page()
    visit(page, notebook, LESSON)
    lessons = [name for name in page.evaluate(_CACHES) if " lesson " in name]
    assert lessons
    context.route(f"**/{LESSON}", lambda route: route.fulfill(status=410, body="gone"))
    page.goto(notebook.address + LESSON)
    page.evaluate(_GONE, lessons)


def test_it_is_installed_under_its_name_with_icons_of_its_own(
    context: BrowserContext, notebook: Notebook
) -> None:
    """Chromium reads the manifest by the W3C's rules and says what hinders an installation."""
    page = context.new_page()
    page.goto(notebook.address)
    page.wait_for_selector("link[rel=manifest]", state="attached")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    browser = context.new_cdp_session(page)
    told = browser.send("Page.getAppManifest")
    assert told["errors"] == []
    assert told["url"] == notebook.address + "site.webmanifest"
    written = json.loads(told["data"])
    assert {(one["sizes"], one["purpose"]) for one in written["icons"]} == {
        (size, purpose) for size in ("192x192", "512x512") for purpose in ("any", "maskable")
    }
    hindered = browser.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert [one["errorId"] for one in hindered if one["errorId"] != "in-incognito"] == []


def test_nothing_is_offered_where_the_browser_keeps_nothing(page: Page, notebook: Notebook) -> None:
    """On http at another host than localhost (Secure Contexts, W3C): there is no worker to ask."""
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))

    def give(route: Route) -> None:
        route.fulfill(path=notebook.out / route.request.url.removeprefix("http://notebook.example/"))

    page.route("http://notebook.example/**", give)
    for path in (LESSON, "settings/index.html"):
        page.goto(f"http://notebook.example/{path}", wait_until="networkidle")
        assert page.locator(".keep:visible, .kept:visible, link[rel=manifest]").count() == 0
    assert wrong == []
