"""The proof: the site as it will be published, pressed again lesson by lesson as its files change.

A lesson is pressed again when something that it is made from has changed: its text, its clips' files, what
all lessons share. A lesson with faults is not, and its last good page stays where it is. What is made anew is
counted.
"""

from __future__ import annotations

import hashlib
import math
import shutil
import threading
import time
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

from lessonpress.desk.answers import RefusedError
from lessonpress.desk.outcome import Outcome, summary_of
from lessonpress.desk.studio import Seen, Studio
from lessonpress.desk.whole import version_at, version_of
from lessonpress.figures.binding import Begun, begin, finish
from lessonpress.figures.filming import Filmed
from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.figures.site import clips_of, frames_shown
from lessonpress.footage.failure import FootageError
from lessonpress.footage.index import ClipIndex
from lessonpress.manuscript.lesson import Lesson
from lessonpress.manuscript.site import Site
from lessonpress.outlets.diagrams import diagrams
from lessonpress.outlets.site import outlets
from lessonpress.pages import PictureBook, Shot, Theme, dates, links
from lessonpress.pages.archive import archive, topic_pages
from lessonpress.pages.entries import listed
from lessonpress.pages.frame import Studio as PageStudio
from lessonpress.pages.home import home
from lessonpress.pages.lesson import LessonPage
from lessonpress.pages.pictures import shot_of
from lessonpress.pages.plain import not_found, plain_pages
from lessonpress.pages.site import neighbours
from lessonpress.press.diagrams import drawn
from lessonpress.press.loops import loops
from lessonpress.press.pictures import Printing, pictures_of
from lessonpress.press.progress import Silent
from lessonpress.press.videos import State
from lessonpress.records.fault import UsageError
from lessonpress.records.problem import Place, Problem, Problems

SLICE = 2.0  # s of measuring after which what is ready is put out before the rest
CLIP_FILES = ("clip.yaml", "marks.yaml", "tracks.csv")
SHARED = ("site.yaml", "glossary.yaml")


@dataclass
class Kept:
    """A lesson as last bound, faults and all. key: what it was made from."""

    key: str
    begun: Begun
    bound: BoundLesson
    problems: tuple[Problem, ...]


@dataclass
class Good:
    """A lesson as it was when it last had no errors, and what was put out of it. page: see `_page`."""

    bound: BoundLesson
    printings: tuple[Printing, ...] = ()
    paths: frozenset[str] = frozenset()
    page: str = ""


@dataclass
class Proof:
    """One press at a time. folder: SITE/build/proof, made anew when the desk opens.

    front: the lesson that is looked at; it is pressed before all others.
    """

    studio: Studio
    front: str | None = None
    outcome: Outcome = field(default_factory=lambda: Outcome("none", 0))
    bound_anew: int = 0  # lessons measured and bound since the desk opened
    pages_anew: int = 0  # lessons' pages rendered
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _kept: dict[str, Kept] = field(default_factory=dict)
    _good: dict[str, Good] = field(default_factory=dict)
    _written: dict[str, str] = field(default_factory=dict)  # path → version of what is there

    @property
    def folder(self) -> Path:
        return self.studio.root / "build" / "proof"

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
            pressed_now, problems, names, pending = self._press(self.studio.seen(), most)
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

    def _address(self, name: str) -> str:
        path = links.lesson(name)
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
            and (one.place.path in concerned or one.place.path.startswith(folders or "\0"))
        )

    def _clips_of(self, name: str) -> frozenset[str]:
        site = self.studio.seen().site
        lesson = site.lesson(name) if site else None
        return clips_of(lesson, site) if site and lesson else frozenset()

    # pressing

    def _press(
        self, seen: Seen, most: float
    ) -> tuple[tuple[str, ...], list[Problem], tuple[str, ...], tuple[str, ...]]:
        """The lessons pressed anew, what is wrong, the lessons shown, the lessons pending."""
        site = seen.site
        if site is None:
            return (), seen.problems.in_order(), tuple(self._good), ()
        found = Problems(list(seen.problems.found))
        anew, pending = self._bind(site, most)
        for name in (self._kept.keys() | self._good.keys()) - {lesson.name for lesson in site.pressed}:
            self._kept.pop(name, None)
            if site.lesson(name) or not (self.studio.root / "lessons" / f"{name}.md").is_file():
                self._good.pop(name, None)  # a draft, or gone; one that cannot be read stays as it last was
        for kept in self._kept.values():
            found.extend(kept.problems)
        problems = Problems(found.in_order())
        shown = self._shown(site, problems.found)
        if seen.theme is not None:
            try:
                self._print(site, seen.theme, shown, problems, complete=not pending)
            except UsageError as error:
                problems.error(site.place_of("theme"), str(error), "correct the theme")
        return anew, problems.in_order(), tuple(lesson.lesson.name for lesson in shown), pending

    def _bind(self, site: Site, most: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Measures lessons whose sources changed. Those that are measured now, those that are pending."""
        lessons = {lesson.name: lesson for lesson in site.pressed}
        keys = self._keys(site)
        due = self._due(lessons, keys)
        films: dict[str, Filmed | None] = dict.fromkeys(site.clips)
        told: dict[str, list[Problem]] = {}
        begun: dict[str, tuple[Begun, Problems]] = {}
        until = time.monotonic() + most
        for name in due:
            if begun and (time.monotonic() > until or (self.front in begun and most < math.inf)):
                break
            clips = sorted(clips_of(lessons[name], site))
            for clip in clips:
                if clip not in told:
                    films[clip], told[clip] = self._filmed(site, clip)
            problems = Problems([one for clip in clips for one in told[clip]])
            begun[name] = (begin(lessons[name], site, films, problems), problems)
        others = {name: kept.begun.bound for name, kept in self._kept.items() if name in lessons}
        others |= {name: made.bound for name, (made, _) in begun.items()}
        for name, (made, problems) in begun.items():
            bound = finish(made, others, site, problems)
            self._kept[name] = Kept(keys[name], made, bound, tuple(problems.found))
            self.bound_anew += 1
        return tuple(begun), tuple(name for name in due if name not in begun)

    def _due(self, lessons: dict[str, Lesson], keys: Mapping[str, str]) -> list[str]:
        """What is to be measured anew: the lesson in front, the newest first, followers of others last."""
        newest_first = [
            name for name in reversed(lessons) if name not in self._kept or self._kept[name].key != keys[name]
        ]
        return sorted(newest_first, key=lambda name: (_follows(lessons[name]), name != self.front))

    def _filmed(self, site: Site, name: str) -> tuple[Filmed | None, list[Problem]]:
        """The clip, None where it cannot be used; and what is wrong, unless reading has told it."""
        clip, problems = site.clips[name], Problems()
        if clip.card is None or clip.video is None or not clip.video.is_file():
            return None, []
        try:
            self.studio.index(clip)
        except RefusedError as error:
            problems.error(clip.card.place_of("video"), error.reason, error.way_out)
            return None, problems.found
        try:
            return self.studio.filmed(clip, problems, press=True), problems.found
        except RefusedError as error:
            problems.error(Place(clip.path), error.reason, error.way_out)
            return None, problems.found

    def _keys(self, site: Site) -> dict[str, str]:
        """By lesson, what it is made from: text, what all share, clips, lessons whose numbers it follows."""
        clips = {name: self._clip_key(site, name) for name in site.clips}
        shared = [version_at(self.studio.root / path) for path in SHARED]
        keys = {}
        for lesson in site.pressed:
            text = version_at(self.studio.root / lesson.path)
            keys[lesson.name] = _hash(
                [text, *shared, *(clips[clip] for clip in sorted(clips_of(lesson, site)))]
            )
        everything = _hash(keys.values())
        return {
            lesson.name: _hash([keys[lesson.name], everything]) if _follows(lesson) else keys[lesson.name]
            for lesson in site.pressed
        }

    def _clip_key(self, site: Site, name: str) -> str:
        clip = site.clips[name]
        written = [version_at(clip.folder / file) for file in CLIP_FILES]
        try:
            state = State.of(self.studio.video(clip).stat())
        except (RefusedError, OSError):
            return _hash([name, *written])
        return _hash([name, *written, str(state)])

    def _shown(self, site: Site, problems: list[Problem]) -> tuple[BoundLesson, ...]:
        """The lessons of the proof, newest first: as they are, or as they were before they had errors."""
        wrong = {one.place.path for one in problems if one.severity == "error"}
        for name, kept in self._kept.items():
            sources = {f"lessons/{name}.md", *SHARED}
            folders = tuple(f"clips/{clip}/" for clip in clips_of(kept.bound.lesson, site))
            if any(path in sources or path.startswith(folders or "\0") for path in wrong):
                continue
            if name not in self._good or self._good[name].bound is not kept.bound:
                before = self._good.get(name)
                self._good[name] = Good(kept.bound, paths=before.paths if before else frozenset())
        shown = [good.bound for good in self._good.values()]
        return tuple(sorted(shown, key=lambda one: (one.lesson.date, one.lesson.name), reverse=True))

    # putting out

    def _print(
        self,
        site: Site,
        theme: Theme,
        shown: tuple[BoundLesson, ...],
        problems: Problems,
        *,
        complete: bool,
    ) -> None:
        """complete: whether no lesson is pending; what all lessons have a part in waits until then."""
        whole = BoundSite(site, shown, frames_shown(shown))
        fresh = [one for one in shown if not self._good[one.lesson.name].page]
        for one in fresh:
            alone = BoundSite(site, (one,), frames_shown((one,)))
            made = pictures_of(alone, self._indexes(alone), self.studio.cache, Silent(), problems)
            self._good[one.lesson.name].printings = made
        pages = PageStudio(whole, self._book(), theme, theme.words(site.language))
        files: set[str] = set()
        common = self._common(pages, whole) if complete else pages.theme.files.items()
        for path, content in common:
            self._put(path, content)
            files.add(path)
        for one in shown:
            good = self._good[one.lesson.name]
            if one in fresh:
                good.paths = frozenset(self._lesson_files(one, whole, pages.words))
            files |= good.paths
            files.add(self._page(one, shown, pages))
        if complete:
            self._sweep(files)

    def _indexes(self, bound: BoundSite) -> dict[str, ClipIndex]:
        """Of the clips whose pictures a lesson shows."""
        return {name: self.studio.index(bound.site.clips[name]) for name in bound.frames_shown}

    def _printings(self, one: BoundLesson) -> dict[Shot, list[Printing]]:
        by_shot: dict[Shot, list[Printing]] = defaultdict(list)
        for printing in self._good[one.lesson.name].printings:
            by_shot[printing.shot].append(printing)
        return by_shot

    def _book(self) -> PictureBook:
        by_shot: dict[Shot, list[Printing]] = {}
        for good in self._good.values():
            for shot, printings in self._printings(good.bound).items():
                by_shot.setdefault(shot, printings)
        return PictureBook({shot: [one.picture for one in sizes] for shot, sizes in by_shot.items()})

    def _common(self, pages: PageStudio, whole: BoundSite) -> Iterator[tuple[str, bytes]]:
        """What all lessons have a part in; it is small and always made."""
        yield from pages.theme.files.items()
        yield home(pages)
        yield archive(pages)
        yield from topic_pages(pages)
        yield from plain_pages(pages)
        yield not_found(pages)
        yield from outlets(whole)

    def _page(self, one: BoundLesson, shown: tuple[BoundLesson, ...], pages: PageStudio) -> str:
        """The path of a lesson's page, rendered where it is new or what it says of others has changed."""
        good = self._good[one.lesson.name]
        shelf = listed(shown)
        places = {other.lesson.name: place for place, other in enumerate(shelf)}
        beside = neighbours(shelf, places.get(one.lesson.name))
        near = [
            other.lesson.name + other.lesson.title if other else "" for other in (beside.before, beside.after)
        ]
        topics = [*(slug for _, slug in pages.topic_links(one.lesson.topics)), *sorted(pages.sources)]
        made_from = _hash([pages.theme.version, *near, *topics])
        path = links.lesson(one.lesson.name)
        if good.page != made_from or path not in self._written:
            page = LessonPage(one, pages)
            self._put(path, page.content(beside))
            good.page = made_from
            self.pages_anew += 1
        return path

    def _lesson_files(self, one: BoundLesson, whole: BoundSite, words: Mapping[str, Any]) -> Iterator[str]:
        """Writes a lesson's pictures, diagrams and loops; their paths."""
        by_shot = self._printings(one)
        cache = self.studio.cache
        made = diagrams(
            one,
            whole.site.units,
            words["plate"]["word"],
            lambda panel: by_shot[shot_of(panel)][-1].entry.content,
            partial(dates.short, words=words),
        )
        alone = BoundSite(whole.site, (one,), frames_shown((one,)))
        for path, content in drawn(made, cache, Silent()):
            self._put(path, content)
            yield path
        try:
            for path, content in loops(alone, self._indexes(alone), cache, Silent()):
                self._put(path, content)
                yield path
        except FootageError:
            return  # told when its pictures were taken
        for printings in by_shot.values():
            for printing in printings:
                if printing.href not in self._written:
                    self._put(printing.href, printing.entry.content())
                yield printing.href

    def _put(self, path: str, content: bytes) -> None:
        version = version_of(content)
        if self._written.get(path) == version:
            return
        place = self.folder / path
        if not place.resolve().is_relative_to(self.folder):
            raise RuntimeError(f"{path} would lie outside the proof")
        place.parent.mkdir(parents=True, exist_ok=True)
        beside = place.with_name(f".{place.name}.pressing")
        beside.write_bytes(content)  # no need to wait for the disk: a proof can be pressed again
        beside.replace(place)
        self._written[path] = version

    def _sweep(self, files: set[str]) -> None:
        """Takes away what no lesson has any more."""
        for path in set(self._written) - files:
            (self.folder / path).unlink(missing_ok=True)
            del self._written[path]


def _follows(lesson: Lesson) -> bool:
    """Whether a lesson charts numbers of others."""
    return any(block.kind == "progress" for block in lesson.blocks)


def _hash(parts: Iterable[str]) -> str:
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()
