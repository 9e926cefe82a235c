"""The proof: the site as it will be published, pressed again by the steps of the press as its files change.

What is to be made again the steps know (`press/steps`). Here it is only decided in which order: the lesson
that is looked at first, and what takes long a few lessons at a time. A lesson with faults is not put out, and
its last good page stays where it is.
"""

from __future__ import annotations

import math
import shutil
import threading
import time
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path

from lessonpress.desk.preview.outcome import Outcome, summary_of
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.disk import write_atomically
from lessonpress.figures import clips_of
from lessonpress.pages import lesson_path
from lessonpress.press import (
    LED_TO,
    Dockets,
    FileHashes,
    Inputs,
    Key,
    PressOptions,
    Put,
    Schedule,
    Shared,
    Silent,
    Works,
)
from lessonpress.records import Location, Problem, Problems, UsageError

SLICE = 2.0  # s of measuring after which what is ready is put out before the rest
SHARED = ("site.yaml", "glossary.yaml")


@dataclass
class Proof:
    """One press at a time. folder: SITE/build/proof, made anew when the desk opens.

    front: the lesson that is looked at; it is pressed before all others.
    """

    live: LiveSite
    front: str | None = None
    outcome: Outcome = field(default_factory=lambda: Outcome("none", 0))
    bound_anew: int = 0  # lessons pressed since the desk opened, each as often as it was
    pages_anew: int = 0  # lessons' pages that were other ones than before
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _dockets: Dockets | None = None
    _states: FileHashes | None = None
    _shared: Shared = field(default_factory=Shared)
    _bound: dict[str, str] = field(default_factory=dict)  # lesson → hash of what it was bound to
    _good: dict[str, tuple[str, ...]] = field(default_factory=dict)  # lesson → files of its last good press
    _folders: dict[str, str] = field(default_factory=dict)  # lesson → folder of its page
    _written: dict[str, str] = field(default_factory=dict)  # path → SHA-256 of what is there
    _follows: dict[str, tuple[str, bool]] = field(
        default_factory=dict
    )  # lesson → its hash, if it charts others

    @property
    def folder(self) -> Path:
        return self.live.root / "build" / "proof"

    def open(self) -> None:
        """An empty folder: what an earlier desk left may be of another site altogether."""
        shutil.rmtree(self.folder, ignore_errors=True)
        self.folder.mkdir(parents=True)

    def press(self) -> Outcome:
        """Presses all that changed since the last time."""
        return self.press_some(math.inf)

    def press_some(self, most: float = SLICE) -> Outcome:
        """Presses of what changed the lesson in front, else as many as can be measured in `most` s.

        The rest is pending until the next time.
        """
        with self._lock:
            began = time.monotonic()
            self.outcome = replace(self.outcome, state="pressing")
            pressed_now, problems, names, pending = self._press(self._works(), most)
            faulty = any(one.severity == "error" for one in problems)
            self.outcome = Outcome(
                state="faulty" if faulty else "good",
                number=self.outcome.number + 1,
                pressed_at=datetime.now(UTC).isoformat(timespec="seconds"),
                seconds=time.monotonic() - began,
                pressed=pressed_now,
                problems=tuple(problems),
                pages={name: self._address(name) for name in names},
                pending=pending,
                summary=summary_of(pressed_now, names, pending, problems),
            )
            return self.outcome

    def press_front(self) -> Outcome | None:
        """The page of the lesson that is looked at, before all else that its change asks for.

        None where that is for `press_some` to do: nothing of it changed, or something is wrong with it.
        """
        with self._lock:
            try:
                return self._pressed_front(self.front)
            except UsageError:  # a theme's own template fails, which `press_some` reports
                return None

    def _pressed_front(self, name: str | None) -> Outcome | None:
        if name is None or name not in self._good:
            return None
        site = Schedule(self._works(), Silent())
        if not site.there or name not in site.lessons or site.theme() is not None:
            return None
        site.measure_one(name)
        if site.works.sure(("bound", name, "")) == self._bound.get(name):
            return None
        if site.faults_of_lesson(name).errors or site.problems_of_text(name).errors:
            return None
        path, was = lesson_path(self._folders[name]), self.outcome
        for key, put in (*site.of_the_theme(), *site.of_a_lesson(name, ("pictures", "page"))):
            self._put(site.works, key, put)
        if not (self.folder / path).is_file():
            return None
        self.outcome = replace(
            was,
            number=was.number + 1,
            problems=tuple(one for one in was.problems if one.location.path != f"lessons/{name}.md"),
            pages={**was.pages, name: self._address(name)},
            pending=tuple(one for one in site.lessons if one != name),
        )
        return self.outcome

    def _address(self, name: str) -> str:
        path = lesson_path(self._folders.get(name, name))
        return f"/proof/{path}?of={self._written.get(path, '')[:12]}"

    def failed(self, reason: str) -> None:
        """A press that the machine stopped: what was pressed before is still there."""
        number = self.outcome.number + 1
        self.outcome = replace(self.outcome, state="faulty", number=number, summary=reason, pending=())

    def faults_of(self, name: str) -> tuple[Problem, ...]:
        """The errors that keep a lesson from being pressed: its own, its clips' and the site's."""
        concerned = {f"lessons/{name}.md", *SHARED}
        folders = tuple(f"clips/{clip}/" for clip in self._clips_of(name))
        return tuple(
            one
            for one in self.outcome.problems
            if one.severity == "error"
            and (one.location.path in concerned or one.location.path.startswith(folders or "\0"))
        )

    def _clips_of(self, name: str) -> frozenset[str]:
        site = self.live.seen().site
        lesson = site.lesson(name) if site else None
        return clips_of(lesson, site) if site and lesson else frozenset()

    # pressing

    def _works(self) -> Works:
        cache = self.live.cache
        if self._dockets is None or self._states is None:
            self._dockets, self._states = Dockets.kept(cache), FileHashes.kept(cache)
        inputs = Inputs(self.live.root, PressOptions(True, self.live.own_themes), self._states)
        return Works(self.live.root, cache, inputs, self._dockets, shared=self._shared)

    def _press(
        self, works: Works, most: float
    ) -> tuple[tuple[str, ...], list[Problem], tuple[str, ...], tuple[str, ...]]:
        """The lessons pressed anew, what is wrong, the lessons shown, the lessons pending."""
        site = Schedule(works, Silent())
        problems = site.read()
        if not site.there:
            return (), problems.in_order(), tuple(self._good), ()
        unusable = site.theme()
        problems.extend(unusable.collected if unusable else ())
        anew, pending = self._bind(site, most)
        ready = [name for name in site.lessons if name not in pending]
        by_lesson = {name: site.problems_of_lesson(name) for name in ready}
        for of_lesson in by_lesson.values():
            problems.extend(of_lesson.collected)
        wrong = {one.location.path for one in problems.collected if one.severity == "error"}
        good = [name for name in ready if not by_lesson[name].errors and not self._wrong(site, name, wrong)]
        if unusable is None:
            try:
                self._put_out(site, good, problems, complete=not pending)
            except UsageError as error:
                problems.error(Location("site.yaml"), str(error), "correct the theme")
        if works.redone:
            works.dockets.keep(works.cache)
            works.inputs.file_hashes.keep(works.cache)
        shown = tuple(name for name in self._newest_first(site) if name in self._good)
        return anew, problems.in_order(), shown, pending

    def _newest_first(self, site: Schedule) -> list[str]:
        """The lessons there are; one that cannot be read at present comes last."""
        return [*site.lessons, *(name for name in self._good if name not in site.lessons)]

    def _bind(self, site: Schedule, most: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Measures what is another than it was put out: those lessons, and those that are pending."""
        until = time.monotonic() + most
        lessons = sorted(site.lessons, key=lambda name: (self._charts_others(site, name), name != self.front))
        anew: list[str] = []
        pending: list[str] = []
        for name in lessons:
            last = self._bound.get(name)
            key = ("bound", name, "")
            if last is not None and site.works.good(key) and site.works.sure(key) == last:
                continue
            if anew and (time.monotonic() > until or (self.front in anew and most < math.inf)):
                pending.append(name)
                continue
            site.measure_one(name)
            self._bound[name] = site.works.sure(key)
            if self._bound[name] != last:
                anew.append(name)
        self.bound_anew += len(anew)
        return tuple(anew), tuple(pending)

    def _charts_others(self, site: Schedule, name: str) -> bool:
        """Told by its text, which is opened only where it is another: an archive has thousands of them."""
        hashed = site.works.sure(("lesson", name, ""))
        if self._follows.get(name, ("", False))[0] != hashed:
            self._follows[name] = hashed, site.follows(name)
        return self._follows[name][1]

    def _wrong(self, site: Schedule, name: str, wrong: Iterable[str]) -> bool:
        """Whether a file that the lesson is made from holds a mistake."""
        sources = {f"lessons/{name}.md", *SHARED}
        folders = tuple(f"clips/{clip}/" for clip in site.clips_of(name))
        return any(path in sources or path.startswith(folders or "\0") for path in wrong)

    # putting out

    def _put_out(self, site: Schedule, good: list[str], problems: Problems, *, complete: bool) -> None:
        """complete: whether no lesson is pending; what all lessons have a part in waits until then."""
        files: set[str] = set()
        for key, put in [*site.of_the_theme(), *(site.of_the_site() if complete else ())]:
            files.add(self._put(site.works, key, put))
        for name in good:
            by_lesson = Problems(list(site.works.docket(("pictures", name, "")).problems))
            problems.extend(by_lesson.collected)
            if not by_lesson.errors:
                self._folders[name] = site.folder_of(name)
                self._good[name] = tuple(
                    self._put(site.works, key, put) for key, put in site.of_a_lesson(name, LED_TO)
                )
        for name in list(self._good):
            hidden = name in site.hidden
            if hidden or not (self.live.root / "lessons" / f"{name}.md").is_file():
                self._good.pop(name)
                self._bound.pop(name, None)
                self._follows.pop(name, None)
        if complete:
            self._sweep(files.union(*self._good.values()))

    def _put(self, works: Works, key: Key, put: Put) -> str:
        """Writes a file where it is another than the one there; its path."""
        if self._written.get(put.path) == put.hashed:
            return put.path
        file = self.folder / put.path
        if not file.resolve().is_relative_to(self.folder):
            raise RuntimeError(f"{put.path} would lie outside the proof")
        file.parent.mkdir(parents=True, exist_ok=True)
        write_atomically(file, works.content(key, put), lasting=False)  # a proof can be pressed again
        self._written[put.path] = put.hashed
        self.pages_anew += key[0] == "page"
        return put.path

    def _sweep(self, files: set[str]) -> None:
        """Takes away what no lesson has any more."""
        for path in set(self._written) - files:
            (self.folder / path).unlink(missing_ok=True)
            del self._written[path]
