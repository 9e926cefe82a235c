"""What tests of several rooms share: a small drawn site, made once a run."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.chromium import launched
from tests.studio.site import make_site

Rewrite = Callable[[Path, str, str], None]


@pytest.fixture(scope="session")
def drawn_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site as made, for reading only; its cache fills up as tests go, as an author's does."""
    return make_site(tmp_path_factory.mktemp("drawn") / "notebook").root


@pytest.fixture(scope="session")
def pressed_site(drawn_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The drawn site's output folder, for reading only."""
    out = tmp_path_factory.mktemp("drawn-host") / "notebook"
    done = press(drawn_site, out, Silent())
    assert done.summary is not None, done.problems.errors
    return out


@pytest.fixture
def own_site(drawn_site: Path, pressed_site: Path, tmp_path: Path) -> Path:
    """A copy of the drawn site that a test may change. Its cache is full: the site was pressed before."""
    return Path(shutil.copytree(drawn_site, tmp_path / "notebook"))


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """The system's Chromium, started once a run: its driver runs one at a time in a process."""
    with sync_playwright() as playwright, launched(playwright) as browser:
        yield browser


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(reduced_motion="reduce")
    yield context.new_page()
    context.close()


@pytest.fixture
def rewrite() -> Rewrite:
    """Replaces the one occurrence of a text in a file."""

    def replace(file: Path, old: str, new: str) -> None:
        text = file.read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file.name}"
        file.write_text(text.replace(old, new), encoding="utf-8")

    return replace
