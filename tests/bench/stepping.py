"""How many pictures a second a strip is stepped at on a slow phone, as a held key steps it.

    PYTHONPATH=. python -m tests.bench.stepping

Chromium at 412 px with its processor slowed four times (CDP, Emulation.setCPUThrottlingRate). Each key press
waits for the picture of the one before, so that none is left out; a screen paints 60 times a second.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.chromium import launched
from tests.browser.host import hosted
from tests.studio.site import make_site

SLOWED = 4
ROUNDS = 2  # there and back
LESSON = """\
---
title: From setup
date: 2026-11-23
clip: dune-face-on
---

```strip
id: flip
from: setup
to: impact
draw:
  - vertical: navel
    placed: setup
```
"""
STEPPED = """async rounds => {
  const strip = document.querySelector(".strip.stepped");
  const panels = [...strip.querySelectorAll(".panel")];
  const frame = () => new Promise(requestAnimationFrame); // what stands when it is called is painted next
  let at = 0;
  const step = async (key, by) => {
    at += by;
    strip.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
    do await frame(); while (panels[at].matches(".away"));
  };
  const round = async () => {
    for (let one = 1; one < panels.length; one += 1) await step("ArrowRight", 1);
    for (let one = 1; one < panels.length; one += 1) await step("ArrowLeft", -1);
  };
  const begun = performance.now();
  await round();
  const first = performance.now();
  for (let one = 0; one < rounds; one += 1) await round();
  const steps = 2 * (panels.length - 1);
  const rate = (count, ms) => Math.round((count / ms) * 1000);
  return [panels.length, rate(steps, first - begun), rate(rounds * steps, performance.now() - first)];
}"""


def main() -> None:
    """Press a site of one strip, step through it and say how fast that went."""
    with tempfile.TemporaryDirectory() as folder:
        root = make_site(Path(folder) / "notebook", (), lessons=False).root
        (root / "lessons" / "flip.md").write_text(LESSON, encoding="utf-8")
        done = press(root, root / "out", Silent())
        assert done.summary is not None, done.problems.errors
        with hosted(root / "out") as address:
            print(_told(f"{address}lessons/flip/"))


def _told(address: str) -> str:
    with sync_playwright() as playwright, launched(playwright) as browser:
        page = browser.new_page(viewport={"width": 412, "height": 915}, device_scale_factor=2)
        page.goto(address)
        page.wait_for_selector(".strip.stepped")
        page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        count, first, after = page.evaluate(STEPPED, ROUNDS)
    return (
        f"{count} pictures, processor slowed {SLOWED} times: {first} a second there and back for the first "
        f"time, fetching included, {after} a second after that"
    )


if __name__ == "__main__":
    main()
