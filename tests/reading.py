"""A whole site read and its lessons bound by the steps of the press, for tests that look at numbers alone."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.press.progress import Silent
from lessonpress.press.ready import opened
from lessonpress.press.schedule import Schedule
from lessonpress.press.steps.inputs import PressOptions
from lessonpress.records import Problems


@dataclass(frozen=True)
class Reading:
    """bound is None where the site is unusable; problems may hold errors even when it is not."""

    problems: Problems
    bound: BoundSite | None = None

    def lesson(self, name: str) -> BoundLesson:
        """The lesson of that file stem; fails where its mistakes make it none."""
        assert self.bound is not None, self.problems.errors
        return next(one for one in self.bound.lessons if one.lesson.name == name)


def read_and_bind(root: Path) -> Reading:
    with opened(root, PressOptions()) as works:
        site = Schedule(works, Silent())
        problems = site.read()
        if not site.there:
            return Reading(problems)
        site.measure(problems)
        return Reading(problems, site.bound(site.lessons))
