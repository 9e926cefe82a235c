"""What a telephone loads of each kind of page before its reader scrolls, its scripts and styles among it.

    PYTHONPATH=. python -m tests.bench.weights [SITE]

SITE: a pressed site, else the demo is pressed. Of each kind of page the three largest are weighed, in
Chromium at 412 × 823 CSS px and 1.75 px to each, as Lighthouse has its phone; texts count as a host sends
them, by gzip at level 6. What is fetched for later use (the service worker) is left out. Also the layout's
shift (CLS, web.dev/cls). Ends with 1 where a page is above the limits.
"""

from __future__ import annotations

import gzip
import re
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Browser, Response, sync_playwright

from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.chromium import launched
from tests.browser.host import hosted

LOADED, SCRIPTS, STYLES = 150_000, 25_000, 14_000  # bytes
SHIFT = 0.05  # half of what counts as good; a face that comes late may break a line elsewhere
MOST = 3  # pages of a kind
TEXTS = (".html", ".css", ".js", ".json", ".svg", ".webmanifest")
SHIFTS = """() => new Promise(resolve => new PerformanceObserver(list =>
    resolve(list.getEntries().reduce((sum, one) => sum + one.value, 0))
).observe({type: "layout-shift", buffered: true}) || setTimeout(resolve, 300, 0))"""
CONTENT = Path(__file__).parents[2] / "content"


@dataclass
class Weight:
    """Of a page: bytes by the suffix of each file, and how much its layout shifts."""

    bytes: dict[str, int] = field(default_factory=dict)
    shift: float = 0.0

    @property
    def loaded(self) -> int:
        return sum(self.bytes.values())

    def of(self, *suffixes: str) -> int:
        return sum(size for suffix, size in self.bytes.items() if suffix in suffixes)

    @property
    def over(self) -> bool:
        too_much = self.loaded > LOADED or self.of(".js") > SCRIPTS or self.of(".css") > STYLES
        return too_much or self.shift > SHIFT

    def __str__(self) -> str:
        parts = [
            self.of(".html"),
            self.of(".css"),
            self.of(".js"),
            self.of(".woff2"),
            self.of(".webp", ".png"),
        ]
        kilobytes = " ".join(f"{size / 1000:7.1f}" for size in (self.loaded, *parts))
        return f"{kilobytes}  {self.shift:.3f}"


def weighed(browser: Browser, url: str) -> Weight:
    answers: list[Response] = []
    context = browser.new_context(
        viewport={"width": 412, "height": 823}, device_scale_factor=1.75, service_workers="block"
    )
    page = context.new_page()
    page.on("response", lambda answer: answers.append(answer))
    page.goto(url, wait_until="networkidle")
    weight = Weight(shift=page.evaluate(SHIFTS))
    for answer in answers:
        if answer.url.startswith("http"):
            suffix = Path(answer.url.partition("?")[0]).suffix or ".html"
            content = answer.body()
            size = len(gzip.compress(content, 6)) if suffix in TEXTS else len(content)
            weight.bytes[suffix] = weight.bytes.get(suffix, 0) + size
    context.close()
    return weight


def weights(site: Path, paths: list[str]) -> Iterator[tuple[str, Weight]]:
    with sync_playwright() as playwright, launched(playwright) as browser, hosted(site) as address:
        for path in paths:
            yield path, weighed(browser, address + path)


def largest_of_each_kind(site: Path) -> list[str]:
    """A kind is a path without the name in it: lessons/*/index.html."""
    kinds = defaultdict[str, list[Path]](list)
    for path in site.rglob("*.html"):
        kinds[re.sub(r"(?<=/)[^/]+(?=/)", "*", str(path.relative_to(site)))].append(path)
    chosen = (sorted(of_kind, key=_size, reverse=True)[:MOST] for of_kind in kinds.values())
    return sorted(str(path.relative_to(site)) for of_kind in chosen for path in of_kind)


def _size(path: Path) -> int:
    return path.stat().st_size


def main(folder: Path) -> int:
    paths = largest_of_each_kind(folder)
    print(f"{'kB':>7} {'page':>7} {'styles':>7} {'scripts':>7} {'faces':>7} {'pictures':>7}  shift")
    over = False
    for path, weight in weights(folder, paths):
        print(f"{weight}  {path}{'  ABOVE THE LIMIT' if weight.over else ''}", flush=True)
        over |= weight.over
    return int(over)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        sys.exit(main(Path(sys.argv[1])))
    with tempfile.TemporaryDirectory() as made:
        press(CONTENT, Path(made, "site"), Silent())
        sys.exit(main(Path(made, "site")))
