"""What tests of several rooms share: a small drawn site, made once a run."""

from __future__ import annotations

import fcntl
import gc
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from lessonpress.press import parallel
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.chromium import launched
from tests.documents import Block, Holds, Remade
from tests.studio.site import make_site

Rewrite = Callable[[Path, str, str], None]
_REMADE = pytest.StashKey[Remade]()
LONGEST = 90_000  # ms that a state of a page may be waited for: other tests may have the machine meanwhile


def pytest_addoption(parser: pytest.Parser) -> None:
    told = "write what comes out into the documents of cases, and show the difference"
    parser.addoption("--remake", action="store_true", help=told)


def pytest_configure(config: pytest.Config) -> None:
    gc.set_threshold(50_000, 20, 50)  # as commands do: a suite makes objects by the million
    expect.set_options(timeout=LONGEST)
    if config.getoption("remake"):
        if config.getoption("numprocesses", None) or hasattr(config, "workerinput"):
            raise pytest.UsageError("--remake writes files, so it takes one process: leave -n out")
        config.stash[_REMADE] = Remade()


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    remade = config.stash.get(_REMADE, None)
    for difference in remade.write() if remade is not None else ():
        terminalreporter.write_line(difference)


@pytest.fixture
def holds(request: pytest.FixtureRequest) -> Holds:
    """holds(block, came) fails where a block of a document says other than what came; --remake notes it."""
    remade = request.config.stash.get(_REMADE, None)

    def check(block: Block, came: str) -> None:
        if remade is None:
            assert came == block.text, f"{block}: other words came out"
        elif came != block.text:
            remade.note(block, came)

    return check


@pytest.fixture(scope="session", autouse=True)
def by_itself() -> Iterator[None]:
    """Presses in this process make everything in it: workers would load the program anew for each of them.

    Pools are tried where tests ask for workers (tests/press/test_apart.py, test_parallel.py), and where they
    begin the program as a process of its own.
    """
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(parallel, "_cores", lambda: {0})
        yield


@pytest.fixture(scope="session")
def of_the_run(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that all processes of this run have in common; what they make there they make in turn."""
    base = tmp_path_factory.getbasetemp()
    return base.parent if hasattr(request.config, "workerinput") else base


@pytest.fixture(scope="session")
def drawn_site(of_the_run: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site as made, for reading only; its cache fills up as tests go, as an author's does."""
    made = of_the_run / "made" / "notebook"
    with in_turn(of_the_run / "drawn.lock"):
        if not made.exists():
            make_site(made)
    return Path(shutil.copytree(made, tmp_path_factory.mktemp("drawn") / "notebook"))


@pytest.fixture(scope="session")
def pressed_site(drawn_site: Path, of_the_run: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The drawn site's output folder, for reading only."""
    out = tmp_path_factory.mktemp("drawn-host") / "notebook"
    cache = of_the_run / "pressed" / "cache"
    with in_turn(of_the_run / "drawn.lock"):
        if cache.exists():
            shutil.copytree(cache, drawn_site / "build" / "cache", dirs_exist_ok=True)
        done = press(drawn_site, out, Silent(), workers=2)
        if not cache.exists():
            shutil.copytree(drawn_site / "build" / "cache", cache)
    assert done.summary is not None, done.problems.errors
    return out


@contextmanager
def in_turn(lock: Path) -> Iterator[None]:
    """For one process of a run at a time."""
    with lock.open("w") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield


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
    context.set_default_timeout(LONGEST)
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
