"""Some lessons of a site made ready by the steps of the press, for commands that print a part of the site."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.progress import Progress
from lessonpress.press.schedule import Schedule
from lessonpress.press.steps.dockets import Dockets
from lessonpress.press.steps.inputs import Inputs, PressOptions
from lessonpress.press.steps.works import Works
from lessonpress.records import Problem, Problems, UsageError, nearest

_SHARED = ("site.yaml", "glossary.yaml")


@contextmanager
def opened(root: Path, options: PressOptions) -> Iterator[Works]:
    """The products of the site at `root`; what is made of them is kept for the next press."""
    cache = Cache(root / "build" / "cache")
    cache.tidy()
    works = Works(root, cache, Inputs(root, options, FileHashes.kept(cache)), Dockets.kept(cache))
    try:
        yield works
    finally:
        works.inputs.file_hashes.keep(cache)
        if works.dockets.changed:
            works.dockets.keep(cache)


@dataclass(frozen=True)
class Ready:
    """names: of the lessons as the site calls them; none where errors among the problems stopped all."""

    problems: Problems
    names: tuple[str, ...] = ()


def made_ready(works: Works, written: Iterable[str], progress: Progress, *, printed: bool = True) -> Ready:
    """The lessons of these file stems or paths, measured and bound, drafts among them.

    Only problems of what they are made from are reported: other lessons' mistakes do not keep anyone from
    these. printed: whether the theme is to print them, which must be usable then. Raises UsageError with near
    names where there is no such lesson.
    """
    site = Schedule(works, progress)
    progress.begin("reading the site")
    every = site.read()
    if not site.there:
        return Ready(every)
    unusable = site.theme() if printed else None
    if unusable is not None:
        return Ready(Problems([*every.collected, *unusable.collected]))
    wanted = [_named(name, works) for name in dict.fromkeys(written)]
    names = [name for name in wanted if name is not None]
    if len(names) < len(wanted):
        return Ready(every)
    problems = Problems([one for one in every.collected if one.location.path in _SHARED])
    progress.begin("measuring", len(names))
    for name in names:
        site.measure_one(name)
        problems.extend(_concerning(name, site, every))
        progress.step()
    return Ready(problems, () if problems.errors else tuple(names))


def _concerning(name: str, site: Schedule, every: Problems) -> list[Problem]:
    folders = tuple(f"clips/{clip}/" for clip in site.clips_of(name))
    files = {f"lessons/{name}.md", *site.still_cards_of(name)}
    own = [
        one for one in every.collected if one.location.path in files or one.location.path.startswith(folders)
    ]
    return [*own, *site.problems_of_lesson(name).collected]


def _named(written: str, works: Works) -> str | None:
    """The lesson's name; None where its file is there and its mistakes make it none."""
    heads = works.value(("heads", "", ""))
    name = Path(written).stem if written.endswith(".md") else Path(written).name
    if name in heads:
        return name
    if name in works.value(("names", "lessons", "")):
        return None
    close = nearest(name, heads)
    hint = f"; close to it: {', '.join(close)}" if close else f"; there are: {', '.join(sorted(heads))}"
    raise UsageError(f"there is no lesson called {name}{hint}")
