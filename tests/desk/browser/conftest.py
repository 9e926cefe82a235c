"""A desk that really runs, opened in Chromium, and an author's hands on it."""

from __future__ import annotations

import base64
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, FloatRect, Locator, Page

from tests.conftest import LONGEST

COMMAND = [sys.executable, "-c", "from lessonpress.cli import main; main()", "desk"]
BARE_SITE = "title: Notebook\nauthor: The Studio\nurl: https://notebook.example/\nlanguage: en\nunits: in\n"


@contextmanager
def running(site: Path) -> Iterator[str]:
    """The opening address of a desk in a process of its own."""
    with subprocess.Popen([*COMMAND, str(site), "--no-open"], stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            found = re.search(r"http://\S+", process.stdout.readline())
            assert found, "the desk did not open"
            yield found[0]
        finally:
            process.kill()


def bare_site(folder: Path) -> Path:
    """A site with nothing in it yet."""
    for name in ("clips", "lessons", "pages"):
        (folder / name).mkdir(parents=True)
    (folder / "site.yaml").write_text(BARE_SITE, encoding="utf-8")
    return folder


@contextmanager
def author_at(site: Path, page: Page) -> Iterator[Author]:
    """An author at the desk of a site, which has no fault of its own meanwhile."""
    with running(site) as address:
        page.goto(address)
        page.locator("main[data-open=contents]").wait_for()
        made = Author(page)
        yield made
        assert made.faults == []


@dataclass
class Author:
    """Works at the desk and counts what it takes: a click, a key, a typed field are an act each."""

    page: Page
    acts: int = 0
    faults: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("console", self._hear)

    def _hear(self, told: ConsoleMessage) -> None:
        in_proof = told.text.startswith("Blocked script execution in") and "/proof/" in told.text
        if told.type == "error" and not in_proof:  # scripts of a proof are held off on purpose
            self.faults.append(told.text)

    # acts

    def key(self, key: str) -> None:
        self.acts += 1
        self.page.keyboard.press(key)

    def click(self, what: Locator) -> None:
        self.acts += 1
        what.click()

    def type(self, what: Locator, text: str) -> None:
        self.acts += 1
        what.fill(text)

    def click_at(self, x: float, y: float) -> None:
        """Clicks the picture at px of the picture."""
        self.acts += 1
        self.page.mouse.click(*self.on_screen(x, y))

    def drop(self, video: Path) -> None:
        """Lets go of a file over the page."""
        self.acts += 1
        content = base64.b64encode(video.read_bytes()).decode()
        given = self.page.evaluate_handle(
            """([name, content]) => {
                const bytes = Uint8Array.from(atob(content), (one) => one.charCodeAt(0));
                const given = new DataTransfer();
                given.items.add(new File([bytes], name, { type: "video/mp4" }));
                return given;
            }""",
            [video.name, content],
        )
        self.page.dispatch_event("body", "drop", {"dataTransfer": given})

    @contextmanager
    def hearing_of(self, path: str) -> Iterator[None]:
        """Does what is inside, and waits until the page has heard that the file at `path` was changed.

        The page's timers run in order: one that is set when the news has come, and takes longer than the page
        lets news settle, ends after it.
        """
        self.page.evaluate(
            """(path) => {
                const events = new EventSource("/api/events");
                window.heard = new Promise((done) => events.addEventListener("saved", (event) => {
                    if (!JSON.parse(event.data).paths.includes(path)) return;
                    setTimeout(() => { events.close(); done(true); }, 500);
                }));
                return new Promise((open) => events.addEventListener("open", () => open(true)));
            }""",
            path,
        )
        yield
        self.page.evaluate("() => window.heard")

    # looking

    def on_screen(self, x: float, y: float) -> tuple[float, float]:
        """Where px of the picture are in the window, from the place and size that the browser gives it."""
        box = self.picture.bounding_box()
        assert box
        width, height = self.picture.evaluate("(one) => [one.width, one.height]")
        return box["x"] + x * box["width"] / width, box["y"] + y * box["height"] / height

    @property
    def picture(self) -> Locator:
        return self.page.locator("#frame canvas.picture")

    @property
    def frame(self) -> int:
        """The number of the picture that is shown."""
        return int(self.page.locator("#frame").get_attribute("data-shown") or -1)

    def sees_frame(self, number: int) -> None:
        self.page.locator(f'#frame[data-shown="{number}"]').wait_for()

    def cross(self) -> tuple[float, float]:
        """Where the cross is aimed, px of the picture, as the frame says for those who do not see it."""
        label = self.page.locator("#frame").get_attribute("aria-label") or ""
        found = re.search(r"cross at ([\d.]+), ([\d.]+) px", label)
        assert found, label
        return float(found[1]), float(found[2])

    def seen(self) -> str:
        """What is in the way, reported where a wait was in vain: the frame, the focus, a question."""
        return str(
            self.page.evaluate(
                """() => [
                    document.querySelector("#frame")?.getAttribute("aria-label"),
                    document.activeElement?.outerHTML.slice(0, 120),
                    document.querySelector("dialog")?.innerText,
                    document.getElementById("told")?.textContent,
                    document.body.hasAttribute("data-at-work"),
                ]"""
            )
        )

    def sees_over(self, one: str, other: str, off: float) -> None:
        """Waits until two elements are shown at one place, of one size, within `off` CSS px."""
        self.page.wait_for_function(
            """([one, other, off]) => {
                const box = (name) => document.querySelector(name)?.getBoundingClientRect();
                const [a, b] = [box(one), box(other)];
                const sides = ["x", "y", "width", "height"];
                return a && b && sides.every((side) => Math.abs(a[side] - b[side]) <= off);
            }""",
            arg=[one, other, off],
        )

    def sees_picture(self, holds: str, was: FloatRect) -> None:
        """Waits until of the picture's place, `now`, something holds against where it `was`."""
        self.page.wait_for_function(
            f"""(was) => {{
                const now = document.querySelector("#frame canvas.picture").getBoundingClientRect();
                return {holds};
            }}""",
            arg=was,
        )

    def open_clip(self, clip: str, lesson: str = "") -> None:
        self.page.goto(f"{self.home}#/clip/{clip}{f'?lesson={lesson}' if lesson else ''}")
        self.page.locator("#frame[data-shown]").wait_for()

    @property
    def home(self) -> str:
        return self.page.url.split("#")[0].split("?")[0]

    def take(self, mark: str) -> None:
        """Takes a mark in hand by its name."""
        self.key("m")
        self.page.keyboard.type(mark)
        self.key("Enter")

    def settled(self) -> None:
        """Waits until the page has nothing under way any more: no save, no picture, no drawing."""
        self.page.locator("body:not([data-at-work])").wait_for(state="attached")


@pytest.fixture(scope="module")
def window(chromium: Browser) -> Iterator[BrowserContext]:
    """Where pages of a module's tests are opened: beside one that stays open, each costs half as much."""
    context = chromium.new_context(reduced_motion="reduce", viewport={"width": 1440, "height": 900})
    context.set_default_timeout(LONGEST)
    context.new_page()
    yield context
    context.close()


@pytest.fixture
def desk_page(window: BrowserContext) -> Iterator[Page]:
    """A page of its own, which the browser remembers nothing of afterwards."""
    page = window.new_page()
    yield page
    page.evaluate("() => { if (location.protocol === 'http:') localStorage.clear(); }")
    page.close()
    window.clear_cookies()


@dataclass(frozen=True)
class Desk:
    """A desk that runs on a site of its own. written: what the author's files held when it opened."""

    site: Path
    address: str
    written: dict[Path, bytes]

    def restore(self) -> None:
        """Puts the files back as they were, which the desk takes as it takes any other change on disk."""
        for place, content in self.written.items():
            if not place.is_file() or place.read_bytes() != content:
                place.write_bytes(content)


@pytest.fixture(scope="module")
def desk(drawn_site: Path, pressed_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk on a copy of the drawn site, one for a module's tests; it was pressed, so its cache is full."""
    site = Path(shutil.copytree(drawn_site, tmp_path_factory.mktemp("desk") / "notebook"))
    files = [*site.glob("lessons/*.md"), *site.glob("clips/*/clip.yaml"), *site.glob("clips/*/marks.yaml")]
    files += site.glob("clips/*/tracks.csv")
    with running(site) as address:
        yield Desk(site, address, {place: place.read_bytes() for place in files})


@pytest.fixture
def own_site(desk: Desk) -> Path:
    """The desk's site, its files as they were at first."""
    desk.restore()
    return desk.site


@pytest.fixture
def author(desk: Desk, own_site: Path, desk_page: Page) -> Iterator[Author]:
    """An author at a desk on a copy of the drawn site."""
    desk_page.goto(desk.address)
    desk_page.locator("main[data-open]").wait_for()
    made = Author(desk_page)
    yield made
    assert made.faults == []
