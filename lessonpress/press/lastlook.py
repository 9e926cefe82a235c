"""The last look at a whole site before it is published: what the press reports, and what every rule finds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from lessonpress.preflight import Answered, Finding, in_order
from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.progress import Progress
from lessonpress.press.schedule import Schedule
from lessonpress.press.steps.dockets import Dockets
from lessonpress.press.steps.inputs import Inputs, PressOptions
from lessonpress.press.steps.works import Works
from lessonpress.records import Problem


@dataclass
class Looked:
    """open: what is left to look at, the most severe first. settled: what the author answered, and why."""

    open: list[Finding] = field(default_factory=list)
    settled: list[tuple[Finding, str]] = field(default_factory=list)

    def add(self, answered: Answered) -> None:
        self.open += answered.open
        self.settled += answered.settled

    @property
    def severe(self) -> bool:
        return any(one.severity in ("error", "severe") for one in self.open)


def preflight(root: Path, progress: Progress, *, own_themes: bool = False, drafts: bool = False) -> Looked:
    """Looks at the site at `root`; nothing is pressed. What is made for it is kept for the next press.

    Raises OSError where the cache cannot be written.
    """
    cache = Cache(root / "build" / "cache")
    cache.tidy()
    inputs = Inputs(root, PressOptions(drafts, own_themes), FileHashes.kept(cache))
    works = Works(root, cache, inputs, Dockets.kept(cache))
    try:
        looked = _look(Schedule(works, progress), works)
    finally:
        inputs.file_hashes.keep(cache)
        works.dockets.keep(cache)
    looked.open = in_order(looked.open)
    return looked


def _look(site: Schedule, works: Works) -> Looked:
    looked = Looked()
    site.progress.begin("reading the site")
    problems = site.read()
    if site.there:
        site.measure(problems)
        _of_texts(site, works, looked)
    looked.open += _of_the_press(problems.by_cause())
    return looked


def _of_texts(site: Schedule, works: Works, looked: Looked) -> None:
    for name in site.lessons:
        looked.add(works.value(("looked at", name, "")))
    for name in works.value(("page heads", "", "")):
        looked.add(works.value(("page looked at", name, "")))


def _of_the_press(problems: Iterable[Problem]) -> list[Finding]:
    """What the press reports by itself, as findings. Mistakes are corrected and not answered."""
    return [Finding("press", one.severity, one.location, one.wrong, one.right, "") for one in problems]
