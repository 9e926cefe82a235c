"""Script in every field that is free text, loaded in a browser, at the desk too: nothing runs.

Each string calls a function that is there in every page, so that whatever runs is noticed; dialogs, errors
and what the browser says of the content security policy are noticed too. A page that runs it shows that.
"""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page

from lessonpress.intake import start_site
from lessonpress.press.letters import MailOptions, write_letters
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.host import hosted
from tests.conftest import LONGEST
from tests.corpus.texts.scripts import SCRIPTS
from tests.desk.browser.conftest import running

CLIP = "clips/shingle-face-on/clip.yaml"
SITE = "https://notebook.example"
TRAP = "window.ran = []; window.xcanary = () => window.ran.push(1);"


def _field(number: int) -> str:
    """A string for a field, in YAML's double quotes and on one line."""
    words = SCRIPTS[number % len(SCRIPTS)].replace("\t", " ")
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"')[:58] + '"'


def _spoilt(root: Path) -> None:
    """The starter with a script in each field that is free text."""
    site, card, lesson = root / "site.yaml", root / CLIP, root / "lessons/first-lesson.md"
    text = site.read_text().replace("title: Range Notebook", f"title: {_field(4)}")
    text = text.replace("# url: https://example.com/ ", f"url: {SITE} #")
    site.write_text(text.replace("author: Your Name", f"author: {_field(1)}"))
    text = card.read_text().replace("title: Shingle, face-on, 7-iron", f"title: {_field(2)}")
    text = text.replace("credit: Drawn for Lessonpress", f"credit: {_field(3)}")
    card.write_text(text.replace("licence: CC0 1.0", f"licence: {_field(24)}"))
    text = lesson.read_text()
    for old, new in {
        "title: The hips go farther than the neck": f"title: {_field(4)}",
        "summary: Three pictures of one swing, with the lean of the trunk measured at impact.": (
            f"summary: {_field(1)}"
        ),
        "topics: [pelvis, trunk]": f"topics: [{_field(14)}, {_field(23)}]",
        "caption: The line through the middle of the pelvis.": f"caption: {_field(2)}\nalt: {_field(7)}",
        "  - tilt: [navel, c7]": f"  - note: navel\n    text: {_field(24)}\n  - tilt: [navel, c7]",
    }.items():
        assert old in text, old
        text = text.replace(old, new)
    lesson.write_text(text)
    (root / "glossary.yaml").write_text(f"pelvis: {_field(11)}\n")
    (root / "pages/about.md").write_text(
        f"---\ntitle: {_field(5)}\n---\n\n[x](https://e.example/{_field(7)[1:-1]})\n"
    )


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("smuggling") / "notebook"
    start_site(root)
    _spoilt(root)
    done = press(root, root / "build/site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors
    assert write_letters(root, ["first-lesson"], MailOptions(attach=True), Silent()).folders
    return root


def _speaks(text: str, kind: str) -> bool:
    """Whether what the browser says is of the page: not of its worker, nor of what the host has not."""
    plain = ("Service Worker registration blocked", "Failed to load resource: ")
    return kind in ("error", "warning") and not text.startswith(plain)


def _is_near(url: str, address: str) -> bool:
    """Whether what a page fetches lies at its own host or within itself; a letter's, at its site."""
    hosts = (urlsplit(address).netloc, urlsplit(SITE).netloc if address.endswith("letter.html") else "")
    return urlsplit(url).scheme in ("data", "blob") or urlsplit(url).netloc in hosts


def _trapped(page: Page, address: str) -> list[str]:
    """What the browser noticed while it loaded a page."""
    seen: list[str] = []
    page.on("dialog", lambda dialog: (seen.append(f"dialog {dialog.message}"), dialog.dismiss()))
    page.on("request", lambda one: None if _is_near(one.url, address) else seen.append(f"asks {one.url}"))
    page.on("pageerror", lambda error: seen.append(f"error {error}"))
    page.on("console", lambda said: seen.append(said.text) if _speaks(said.text, said.type) else None)
    page.add_init_script(TRAP)
    page.goto(address, wait_until="load")
    for element in page.locator("[onload], [onerror], [onfocus], [onmouseover]").all():
        seen.append(f"a handler: {element.evaluate('one => one.outerHTML')[:80]}")
    if page.evaluate("window.ran && window.ran.length"):
        seen.append("a script ran")
    return seen


def test_nothing_runs_on_pages_diagrams_and_letters(root: Path, chromium: Browser) -> None:
    site, letter = root / "build/site", root / "build/mail/first-lesson"
    pages = [*site.rglob("*.html"), *site.rglob("*.svg"), site / "feed.xml"]
    paths = sorted(path.relative_to(site).as_posix() for path in pages if path.name != "404.html")
    assert b"xcanary" in (site / "lessons/first-lesson/index.html").read_bytes()
    noticed: dict[str, list[str]] = {}
    context = chromium.new_context(service_workers="block")
    context.new_page()  # beside one that stays open each of the others costs half as much
    for folder, names in ((site, paths), (letter, ["letter.html"])):
        with hosted(folder) as address:
            for name in names:
                with context.new_page() as page:
                    seen = _trapped(page, f"{address}{name}")
                if seen:
                    noticed[name] = seen
    context.close()
    assert noticed == {}


VIEWS = {
    "contents": "",
    "clip": "#/clip/shingle-face-on?lesson=first-lesson",
    "card": "#/card/shingle-face-on",
    "lesson": "#/lesson/first-lesson",
    "lastlook": "#/lastlook",
    "saves": "#/saves",
}


def test_nothing_runs_at_the_desk(root: Path, chromium: Browser) -> None:
    """Scripts of a proof are held off on purpose, which the browser says; the desk's own run."""
    noticed: dict[str, list[str]] = {}
    with running(root) as address:
        context = chromium.new_context()
        context.set_default_timeout(LONGEST)
        context.new_page()
        home = address
        for view, way in VIEWS.items():
            page = context.new_page()
            seen = _trapped(page, home + way)
            home = page.url.split("#")[0]
            page.locator(f"main[data-open={view}]").wait_for()
            page.locator("body:not([data-at-work])").wait_for(state="attached")
            ran = page.evaluate("window.ran.length")
            own = [one for one in seen if not ("Blocked script execution in" in one and "/proof/" in one)]
            if own or ran:
                noticed[view] = [*own, f"{ran} ran"]
            page.close()
        context.close()
    assert noticed == {}


def test_what_runs_is_noticed(tmp_path: Path, chromium: Browser) -> None:
    away = "http://127.0.0.1:9/away.png"
    (tmp_path / "index.html").write_text(f"<!doctype html><script>xcanary()</script><img src={away}>")
    with hosted(tmp_path) as address:
        context = chromium.new_context()
        seen = _trapped(context.new_page(), f"{address}index.html")
        assert "a script ran" in seen and f"asks {away}" in seen
        context.close()
