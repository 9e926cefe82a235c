"""Reads a site, indexes its videos and binds its lessons, with every problem collected."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from lessonpress.figures import BoundLesson, BoundSite, bind_site, check_complete, clips_in_use
from lessonpress.footage import ClipIndex
from lessonpress.manuscript import Site, read_site
from lessonpress.pages import Theme
from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.indexes import indexes_of
from lessonpress.press.progress import Progress
from lessonpress.press.site_folder import SITE_FILE
from lessonpress.press.studies import studies_of
from lessonpress.records import Problems, UsageError, nearest

ThemeOf = Callable[[Site, Problems], Theme | None]


@dataclass(frozen=True)
class Reading:
    """bound is None where the site is unusable; problems may hold errors even when it is not.

    theme: the site's, where it was asked for.
    """

    problems: Problems
    cache: Cache
    bound: BoundSite | None = None
    theme: Theme | None = None
    indexes: dict[str, ClipIndex] = field(default_factory=dict)


def read_and_bind(
    root: Path, progress: Progress, themed: ThemeOf | None = None, *, drafts: bool = False
) -> Reading:
    """Reads the site at `root` and binds its lessons. Raises OSError where the cache cannot be written.

    themed: finds the theme, for a command that prints pages; without one nothing else is begun. drafts:
    whether these are read and bound too.
    """
    cache = Cache(root / "build" / "cache")
    cache.tidy()
    progress.begin("reading the site")
    site, problems = read_site(root, drafts=drafts)
    if site is None:
        return Reading(problems, cache)
    theme = themed(site, problems) if themed else None
    if themed and theme is None:
        return Reading(problems, cache)
    clips = [site.clips[name] for name in sorted(clips_in_use(site))]
    file_hashes = FileHashes.kept(cache)
    indexes = indexes_of(clips, file_hashes, cache, progress, problems)
    file_hashes.keep(cache)
    studies = studies_of(clips, indexes, cache, progress, problems)
    progress.begin("measuring")
    bound, problems_of_figures = bind_site(site, studies)
    problems.extend(problems_of_figures.collected)
    if not problems.errors:
        for lesson in bound.lessons:
            check_complete(lesson, problems)
    return Reading(problems, cache, bound, theme, indexes)


def lesson_named(reading: Reading, name: str) -> BoundLesson | None:
    """The lesson with this file stem or path; None where its file is there and its mistakes make it none.

    Raises UsageError with near names where there is no such file.
    """
    assert reading.bound is not None
    site = reading.bound.site
    lessons = {bound.lesson.name: bound for bound in reading.bound.lessons}
    wanted = Path(name).stem if name.endswith(".md") else Path(name).name
    if wanted in lessons:
        return lessons[wanted]
    if (site.root / "lessons" / f"{wanted}.md").is_file():
        return None
    close = nearest(wanted, lessons)
    hint = f"; close to it: {', '.join(close)}" if close else f"; there are: {', '.join(sorted(lessons))}"
    raise UsageError(f"there is no lesson called {wanted}{hint}")


def problems_concerning(bound: BoundLesson, problems: Problems) -> Problems:
    """The problems of the files that a lesson is made from: itself, its clips and site.yaml."""
    clips = {panel.clip for plate in bound.plates for panel in plate.panels}
    folders = tuple(f"clips/{clip}/" for clip in clips)
    files = (bound.lesson.path, SITE_FILE)
    return Problems(
        [
            problem
            for problem in problems.collected
            if problem.location.path in files or problem.location.path.startswith(folders)
        ]
    )
