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
        from lessonpress.press import PressOptions, Schedule, made_ready, opened
    with shown(lines=False) as progress, opened(root, PressOptions(drafts=True)) as works:
        ready = made_ready(works, [name], progress, printed=False)
        site = Schedule(works, progress).bound(ready.names) if ready.names else None
    print_problems(ready.problems, root)
    if site is None:
        raise SiteProblemsError
    return site.lessons[0], site.site.units
