"""Holds a clip against a lesson and writes the draft of a private lesson about it; overwrites nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from lessonpress.comparing import Heading, drafted, lacking_on, pairings_of
from lessonpress.disk import write_new
from lessonpress.figures import SurveyedClip, planned_figures
from lessonpress.manuscript import Lesson, fresh_address
from lessonpress.press.progress import Progress
from lessonpress.press.ready import made_ready, opened
from lessonpress.press.steps.clips import filmed
from lessonpress.press.steps.inputs import PressOptions
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import SeenSite
from lessonpress.press.steps.works import Works
from lessonpress.records import Problem, Problems, UsageError, nearest


@dataclass(frozen=True)
class CompareOptions:
    """addressee: whom the lesson is for. incomplete: whether plates that lack something may be left out."""

    addressee: str
    incomplete: bool = False


@dataclass(frozen=True)
class Compared:
    """path: of the draft, None where nothing was written. larger: differences that are so than their ±."""

    problems: Problems
    path: Path | None = None
    pairs: int = 0
    larger: int = 0
    measured: int = 0


def compare(root: Path, clip: str, lesson: str, options: CompareOptions, progress: Progress) -> Compared:
    """Holds `clip` against `lesson`, and drafts a lesson for one person about it.

    What the clip lacks is reported in one go, and nothing is written then unless `options.incomplete`. Raises
    UsageError for a clip or lesson that is not there, for a draft that is there already, and where nothing of
    the lesson can be held against the clip.
    """
    with opened(root, PressOptions(drafts=True)) as works:
        ready = made_ready(works, [lesson], progress)
        if not ready.names:
            return Compared(ready.problems)
        name = ready.names[0]
        path = _free_path(root, f"{name}-{clip}")
        reader = Reader(works)
        other = _filmed(works, reader, clip, ready.problems)
        if other is None or ready.problems.errors:
            return Compared(ready.problems)
        compared = _Comparison(reader, works.value(("lesson", name, "")), other, ready.problems)
        return compared.write(path, options)


def _free_path(root: Path, name: str) -> Path:
    path = root / "lessons" / f"{name}.md"
    if path.exists():
        raise _taken(path)
    return path


def _taken(path: Path) -> UsageError:
    return UsageError(f"{path} is there already and is kept as it is; rename it to have another draft")


def _filmed(works: Works, reader: Reader, clip: str, problems: Problems) -> SurveyedClip | None:
    """The clip ready for figures; None where its mistakes, which are reported, do not let it be."""
    names = works.value(("names", "clips", ""))
    if clip not in names:
        close = nearest(clip, names)
        hint = f"close to it: {', '.join(close)}" if close else f"there are: {', '.join(sorted(names))}"
        raise UsageError(f"there is no clip called {clip}; {hint}")
    for step in ("clip", "played", "plausible"):
        found = works.docket((step, clip, "")).problems
        problems.extend(one for one in found if one not in problems.collected)
    return filmed(reader, clip)


@dataclass(frozen=True)
class _Comparison:
    reader: Reader
    lesson: Lesson
    other: SurveyedClip
    problems: Problems

    def write(self, path: Path, options: CompareOptions) -> Compared:
        films, site = self._films(), SeenSite(self.reader)
        pairings = pairings_of(planned_figures(self.lesson, site, films), self.other, self.problems)
        if not pairings:
            return self._nothing()
        lacking = lacking_on(self.other, pairings, site, films)
        complete = [one for one in pairings if one.id not in lacking.pairings]
        kept = sorted(complete, key=lambda one: self.other.events[one.event])
        self.problems.extend(
            _as_warnings(lacking.problems) if options.incomplete and kept else lacking.problems
        )
        if self.problems.errors:
            return Compared(self.problems)
        heading = Heading(path.stem, options.addressee, fresh_address(), self.reader.today)
        draft = drafted(self.lesson, heading, kept, self.other.name, site, films, self.problems)
        if self.problems.errors:
            return Compared(self.problems)
        try:
            write_new(path, draft.text.encode())
        except FileExistsError:
            raise _taken(path) from None
        return Compared(self.problems, path, len(kept), draft.larger, draft.measured)

    def _nothing(self) -> Compared:
        wrong = f"no plate of {self.lesson.name} can be held against {self.other.name}"
        self.problems.error(self.lesson.location_of("title"), wrong, "the warnings say why of each")
        return Compared(self.problems)

    def _films(self) -> Mapping[str, SurveyedClip | None]:
        clips = self.reader.value("head", self.lesson.name, "clips")
        names = frozenset(self.reader.value("names", "clips"))
        return {name: filmed(self.reader, name) for name in sorted(clips & names | {self.other.name})}


def _as_warnings(problems: tuple[Problem, ...]) -> list[Problem]:
    found = Problems()
    for one in problems:
        found.warn(one.location, one.wrong, one.right)
    return found.collected
