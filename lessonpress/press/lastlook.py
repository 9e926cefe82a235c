"""The last look at a whole site before it is published: what the press reports, and what every rule finds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from lessonpress.manuscript import still_card_of
from lessonpress.preflight import (
    Answered,
    ClipSubject,
    Finding,
    PressedSubject,
    StillSubject,
    answered,
    finding_of,
    in_order,
    left_over,
    look_at,
    marks_used,
)
from lessonpress.press.progress import Progress
from lessonpress.press.ready import opened
from lessonpress.press.schedule import Schedule
from lessonpress.press.steps.inputs import PressOptions
from lessonpress.press.steps.works import Works


@dataclass
class Looked:
    """open: what is left to look at, the most severe first. settled: what the author answered, and why."""

    open: list[Finding] = field(default_factory=list)
    settled: list[tuple[Finding, str]] = field(default_factory=list)

    @property
    def severe(self) -> bool:
        return any(one.severity in ("error", "severe") for one in self.open)

    def rows(self) -> list[dict[str, Any]]:
        """Each finding for JSON, those left to look at first.

        answered: the author's reason, None while there is none. id: None where no answer may be given.
        """
        told = [(one, None) for one in self.open] + [(one, reason) for one, reason in self.settled]
        return [
            {
                "id": one.id or None,
                "rule": one.rule,
                "severity": one.severity,
                "file": one.location.path,
                "line": one.location.line,
                "column": one.location.column,
                "wrong": one.wrong,
                "right": one.right,
                "answered": reason,
            }
            for one, reason in told
        ]


def preflight(root: Path, progress: Progress, *, own_themes: bool = False, drafts: bool = False) -> Looked:
    """Looks at the site at `root`; nothing is pressed. What is made for it is kept for the next press.

    Raises OSError where the cache cannot be written.
    """
    with opened(root, PressOptions(drafts, own_themes)) as works:
        return _Look(Schedule(works, progress), works).whole()


@dataclass
class _Look:
    """One look. left: the answers of each file that fit nothing yet."""

    site: Schedule
    works: Works
    looked: Looked = field(default_factory=Looked)
    left: dict[str, frozenset[str]] = field(default_factory=dict)

    def whole(self) -> Looked:
        self.site.progress.begin("reading the site")
        problems = self.site.read()
        usable = self.site.there and self.site.theme() is None
        if usable:
            self.site.measure(problems)
            if not problems.errors:
                self.site.print_pictures(problems)
            self._texts()
            self._clips()
            self._stills()
            if not problems.errors:
                self._pages()
        self._hold(map(finding_of, problems.by_cause()))
        if usable:
            for path, names in self.left.items():
                head = self.site.head_of(path)
                self.looked.open += left_over(names, head) if head is not None else []
        self.looked.open = in_order(self.looked.open)
        return self.looked

    def _texts(self) -> None:
        for name in self.site.lessons:
            self._add(f"lessons/{name}.md", self.works.value(("looked at", name, "")))
        for name in self.works.value(("page heads", "", "")):
            self._add(f"pages/{name}.md", self.works.value(("page looked at", name, "")))

    def _clips(self) -> None:
        lessons = [self.works.value(("lesson", name, "")) for name in self.works.value(("heads", "", ""))]
        sets = self.works.value(("site.yaml", "", "sets")).values()
        today = self.works.inputs.options.today(self.works.value(("site.yaml", "", "timezone")))
        shown = {lesson.name: self.site.clips_of(lesson.name) for lesson in lessons}
        for name in self.works.value(("names", "clips", "")):
            showing = [lesson for lesson in lessons if name in shown[lesson.name]]
            clip = self.works.value(("clip", name, ""))
            subject = ClipSubject(
                clip,
                tuple(lesson.name for lesson in showing),
                marks_used(clip, showing, (node for of_set in sets for node in of_set)),
                today,
                self._fingerprint(name) if showing else "",
            )
            self.left.setdefault(clip.path, frozenset(clip.card.meant if clip.card else ()))
            self._hold(look_at(subject))

    def _stills(self) -> None:
        today = self.works.inputs.options.today(self.works.value(("site.yaml", "", "timezone")))
        for path in self.site.stills():
            card = self.works.value(("still card", path, ""))
            if card is not None:
                self.left.setdefault(still_card_of(path), frozenset(card.meant))
                self._hold(look_at(StillSubject(card, today)))

    def _fingerprint(self, clip: str) -> str:
        study = self.works.value(("played", clip, ""))
        return study.index.fingerprint if study is not None else ""

    def _pages(self) -> None:
        self.site.progress.begin("pressing pages")
        puts = list(self.site.put_out())
        pages = {
            put.path: self.works.content(key, put).decode("utf-8")
            for key, put in puts
            if put.path.endswith(".html")
        }
        subject = PressedSubject(
            pages,
            {put.path: put.size for _, put in puts},
            dict(self._sources(pages)),
            self._own_styles(),
            self.works.value(("site.yaml", "", "url")) or "",
        )
        self._hold(look_at(subject))

    def _sources(self, pages: Mapping[str, str]) -> Iterator[tuple[str, tuple[str, str]]]:
        """The file that each page of a lesson or a text is made from, and what it says."""
        for path, page in self.works.value(("pages by source", "", "")).items():
            if page in pages and path.endswith(".md"):
                yield page, (path, (self.works.root / path).read_text(encoding="utf-8", errors="replace"))

    def _own_styles(self) -> dict[str, str]:
        folder = self.works.value(("theme", "", ""))
        at = self.works.inputs.path_to(folder)
        if not at.is_relative_to(self.works.root):
            return {}
        return {
            f"{folder}/styles/{one.name}": one.read_text("utf-8") for one in sorted(at.glob("styles/*.css"))
        }

    def _hold(self, findings: Iterable[Finding]) -> None:
        """Holds findings against the answers of the files that they are of."""
        by_file: dict[str, list[Finding]] = {}
        for one in findings:
            by_file.setdefault(one.location.path, []).append(one)
        for path, ones in by_file.items():
            head = self.site.head_of(path)
            self._add(path, Answered(tuple(ones)) if head is None else answered(ones, head))

    def _add(self, path: str, round_: Answered) -> None:
        self.looked.open += round_.open
        self.looked.settled += round_.settled
        self.left[path] = self.left.get(path, round_.left) & round_.left
