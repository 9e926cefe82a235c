"""The system's Chromium, for tests and photographs."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, Playwright

NAMES = ("chromium", "chromium-browser", "google-chrome")


@contextmanager
def launched(playwright: Playwright) -> Iterator[Browser]:
    """A browser until the block ends. SystemExit where none is installed."""
    found = os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)
    if found is None:
        raise SystemExit("Chromium is needed: install the system's package, or set CHROMIUM to its path")
    browser = playwright.chromium.launch(
        executable_path=found, args=["--no-sandbox", "--disable-background-networking"]
    )
    yield browser
    browser.close()
