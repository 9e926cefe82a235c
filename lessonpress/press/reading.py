"""A site read and its lessons bound by the steps of the press, for those who look at numbers alone."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from lessonpress.figures import BoundLesson, BoundSite
from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.progress import Progress
from lessonpress.press.schedule import Schedule
from lessonpress.press.site_folder import SITE_FILE
from lessonpress.press.steps.dockets import Dockets
from lessonpress.press.steps.inputs import Inputs, PressOptions
from lessonpress.press.steps.works import Works
from lessonpress.records import Problems, UsageError, nearest


@dataclass(frozen=True)
class Reading:
    """bound is None where the site is unusable; problems may hold errors even when it is not."""

    problems: Problems
    bound: BoundSite | None = None


def read_and_bind(root: Path, progress: Progress, *, drafts: bool = False) -> Reading:
    """Reads the site at `root` and binds its lessons. Raises OSError where the cache cannot be written.

    drafts: whether these are read and bound too.
    """
    cache = Cache(root / "build" / "cache")
    cache.tidy()
    inputs = Inputs(root, PressOptions(drafts), FileHashes.kept(cache))
    works = Works(root, cache, inputs, Dockets.kept(cache))
    try:
        return _read(Schedule(works, progress), progress)
    finally:
        inputs.file_hashes.keep(cache)
        if works.dockets.changed:
            works.dockets.keep(cache)


def _read(site: Schedule, progress: Progress) -> Reading:
    progress.begin("reading the site")
    problems = site.read()
    if not site.there:
        return Reading(problems)
    site.measure(problems)
    return Reading(problems, site.bound(site.lessons))


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
