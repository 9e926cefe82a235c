"""Pressed sites as a reader's browser sees them: from disk, and from a server's sub-folder."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from html.parser import HTMLParser
from pathlib import Path

import pytest

from lessonpress.figures.plates import BoundSite
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.browser.host import hosted
from tests.conftest import in_turn
from tests.reading import read_and_bind

CONTENT = Path(__file__).parents[2] / "content"


@dataclass(frozen=True)
class PressedSite:
    """folder: where it was pressed to. bound: what its pages were made from."""

    folder: Path
    bound: BoundSite

    @cached_property
    def pages(self) -> list[str]:
        """Paths of all pages from the site's root."""
        found = sorted(str(path.relative_to(self.folder)) for path in self.folder.rglob("*.html"))
        assert found, f"{self.folder} has no pages"
        return found

    @cached_property
    def elements(self) -> dict[str, set[tuple[str, ...]]]:
        """What is on each page: each element with its classes and its role."""
        return {path: _Elements(self.folder / path).found for path in self.pages}

    def kinds_of_pages(self, other: PressedSite | None = None) -> list[str]:
        """A few pages on which everything occurs, or all that does not occur in `other`."""
        seen = set().union(*other.elements.values()) if other else set()
        left = {path: has - seen for path, has in self.elements.items()}
        chosen: list[str] = []
        while most := max(left.values(), key=len):
            chosen.append(next(path for path, has in left.items() if has is most))
            left = {path: has - most for path, has in left.items()}
        return chosen

    @property
    def lesson_pages(self) -> list[str]:
        assert self.bound.lessons, f"{self.folder} has no lessons"
        return [f"lessons/{lesson.lesson.folder}/index.html" for lesson in self.bound.lessons]


class _Elements(HTMLParser):
    """Elements of a page as rules of styles and of accessibility tell them apart."""

    def __init__(self, page: Path) -> None:
        super().__init__()
        self.found: set[tuple[str, ...]] = set()
        self.feed(page.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        has = dict(attrs)
        self.found.add((tag, *(has.get(name) or "" for name in ("class", "role", "type", "data-kind"))))


def _bound(root: Path) -> BoundSite:
    bound = read_and_bind(root).bound
    assert bound is not None
    return bound


@pytest.fixture(scope="session")
def demo(of_the_run: Path, tmp_path_factory: pytest.TempPathFactory) -> PressedSite:
    """The demo site, pressed; where tests run in several processes, the second finds what the first made."""
    folder = tmp_path_factory.mktemp("host") / "some" / "sub-folder"
    with in_turn(of_the_run / "demo.lock"):
        done = press(CONTENT, folder, Silent(), workers=2)
    assert done.summary is not None, done.problems.errors
    return PressedSite(folder, _bound(CONTENT))


@pytest.fixture(scope="session")
def drawn(drawn_site: Path, pressed_site: Path) -> PressedSite:
    """The studio's site, pressed: each overlay kind on a plate of its own."""
    return PressedSite(pressed_site, _bound(drawn_site))


@pytest.fixture(scope="session", params=["demo", "drawn"])
def site(request: pytest.FixtureRequest) -> PressedSite:
    """Each of the two."""
    pressed: PressedSite = request.getfixturevalue(request.param)
    return pressed


@pytest.fixture(scope="session")
def address_of_demo(demo: PressedSite) -> Iterator[str]:
    """The demo site served from a sub-folder of a host that knows nothing of it."""
    with hosted(demo.folder.parents[1]) as address:
        yield f"{address}some/sub-folder/"
