"""The lesson that `measure` and `explain` work on: bound, with its problems printed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from lessonpress.cli.exit_codes import SiteProblemsError
from lessonpress.cli.libraries import heavy_libraries

if TYPE_CHECKING:
    from lessonpress.figures import BoundLesson
    from lessonpress.measure import Units


def bound_lesson(root: Path, name: str) -> tuple[BoundLesson, Units]:
    """The lesson called `name`, which may be a draft, and the site's units.

    Only problems of files this lesson is made from are printed: another lesson's mistakes do not keep
    anyone from this one's numbers. Raises SiteProblemsError where there are errors among them.
    """
    from lessonpress.cli.problems import print_problems
    from lessonpress.cli.progress import shown

    with heavy_libraries():
        from lessonpress.press import lesson_named, problems_concerning, read_and_bind
    with shown(lines=False) as progress:
        reading = read_and_bind(root, progress, drafts=True)
    if reading.bound is None:
        print_problems(reading.problems, root)
        raise SiteProblemsError
    lesson = lesson_named(reading, name)
    problems = reading.problems if lesson is None else problems_concerning(lesson, reading.problems)
    print_problems(problems, root)
    if lesson is None or problems.errors:
        raise SiteProblemsError
    return lesson, reading.bound.site.units
