"""How soon the desk shows what an author does: python -m tests.bench.desk [SITE] [--lessons N] [--edits N]

On a copy of a site (the demo, or with `--lessons` an archive of drawn lessons), its proof pressed once:

- a word that was typed into a lesson is kept: from there until Chromium shows the proof's page with it;
- an arrow key is held over a clip: from each of its repeats until its picture is painted.

Of each the median, the worst and, of the key, what 19 of 20 keep to, ms.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.bench.archives import archive
from tests.browser.chromium import launched
from tests.desk.browser.conftest import running

DEMO = Path(__file__).parents[2] / "content"
FIRST = 3_600_000  # ms that the first proof of a large archive may take
STEPS = 60
PRESSED = """async () => {
  const proof = await (await fetch("/api/proof")).json();
  return proof.state === "good" && !proof.pending.length;
}"""
# From the moment the page sends what was typed to the paint that follows when the proof holds it.
SHOWN = """([word]) => new Promise((done) => {
  const text = document.querySelector("#text");
  const asked = window.fetch;
  let began = 0;
  window.fetch = (...given) => {
    if (given[1]?.method === "PUT") began ||= performance.now();
    return asked(...given);
  };
  text.value = `${text.value.trimEnd()}\\n\\nAgain ${word}.\\n`;
  text.dispatchEvent(new Event("input", { bubbles: true }));
  const look = () => {
    const page = document.querySelector("iframe.proof")?.contentDocument;
    if (!page?.body?.textContent.includes(`Again ${word}.`)) return requestAnimationFrame(look);
    window.fetch = asked;
    return requestAnimationFrame(() => done(performance.now() - began));
  };
  look();
})"""
# The screen paints what stands when a frame ends; the canvas holds a picture as soon as it was drawn into.
PAINTED = """async ([key, count]) => {
  const drawn = CanvasRenderingContext2D.prototype.drawImage;
  let pictures = 0;
  CanvasRenderingContext2D.prototype.drawImage = function (...given) {
    if (this.canvas.matches("#frame canvas.picture")) pictures += 1;
    return drawn.apply(this, given);
  };
  const frame = () => new Promise(requestAnimationFrame);
  const took = [];
  for (let step = 0; step < count; step += 1) {
    const before = pictures, began = performance.now();
    document.body.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, repeat: step > 0 }));
    for (let waited = 0; pictures === before && waited < 600; waited += 1) await frame();
    if (pictures === before) break;
    await frame();
    took.push(performance.now() - began);
  }
  CanvasRenderingContext2D.prototype.drawImage = drawn;
  return took;
}"""


@dataclass(frozen=True)
class Waits:
    """ms, one for each act."""

    of: Sequence[float]

    def __str__(self) -> str:
        ordered = sorted(self.of)
        within = ordered[min(len(ordered) - 1, round(0.95 * len(ordered)))]
        said = f"median {statistics.median(ordered):.0f}, 19 of 20 within {within:.0f}"
        return f"{said}, worst {ordered[-1]:.0f} ms ({len(ordered)})"


def edits(page: Page, home: str, lesson: str, count: int) -> Waits:
    """A word typed into a lesson, so many times."""
    page.goto(f"{home}#/lesson/{lesson}")
    proof = page.frame_locator("iframe.proof")
    proof.locator("h1").first.wait_for(timeout=FIRST)
    return Waits([page.evaluate(SHOWN, [f"word{number}"]) for number in range(count)])


def steps(page: Page, home: str, clip: str) -> Waits:
    """A key held over a clip, there and back."""
    page.goto(f"{home}#/clip/{clip}")
    page.locator("#frame canvas.picture").wait_for()
    page.wait_for_function("() => document.querySelector('#frame canvas.picture').width > 300")
    there = page.evaluate(PAINTED, ["d", STEPS])
    return Waits([*there, *page.evaluate(PAINTED, ["a", STEPS])])


@contextmanager
def _copied(site: Path | None, lessons: int | None) -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "site"
        if lessons is None:
            shutil.copytree(site or DEMO, root, ignore=shutil.ignore_patterns("build"))
        else:
            archive(root, lessons, 6)
        yield root


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("site", nargs="?", type=Path)
    words.add_argument("--lessons", type=int)
    words.add_argument("--edits", type=int, default=50)
    asked = words.parse_args()
    with (
        _copied(asked.site, asked.lessons) as root,
        running(root) as address,
        sync_playwright() as playwright,
        launched(playwright) as browser,
    ):
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        page.goto(address)
        page.locator("main[data-open=contents]").wait_for()
        while not page.evaluate(PRESSED):
            page.wait_for_timeout(500)
        home = page.url.split("#")[0]
        lesson = sorted(path.stem for path in (root / "lessons").glob("*.md"))[0]
        clip = sorted(path.parent.name for path in (root / "clips").glob("*/marks.yaml"))[0]
        print("a word kept, until its page shows it:", edits(page, home, lesson, asked.edits), flush=True)
        print("a held key, until its picture is painted:", steps(page, home, clip))


if __name__ == "__main__":
    main()
