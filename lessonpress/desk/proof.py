"""The proof: the site as it will be published, pressed again lesson by lesson as its files change.

A lesson is pressed again when something that it is made from has changed: its text, its clips' files, what
all lessons share. A lesson with faults is not, and its last good page stays where it is. What is made anew is
counted.
"""

from __future__ import annotations

import hashlib
import shutil
import threading
import time
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from lessonpress.desk.answers import RefusedError, problems_json
from lessonpress.desk.studio import Seen, Studio
from lessonpress.desk.whole import bytes_of, version_of
from lessonpress.figures.binding import Begun, begin, finish
from lessonpress.figures.filming import Filmed
from lessonpress.figures.plates import BoundLesson, BoundSite
from lessonpress.figures.site import clips_of, owed_by, pressed
from lessonpress.footage.failure import FootageError
from lessonpress.footage.index import ClipIndex
from lessonpress.manuscript.lesson import Lesson
from lessonpress.manuscript.site import Site
from lessonpress.outlets.diagrams import diagrams
from lessonpress.outlets.site import outlets
from lessonpress.pages import PictureBook, Shot, Theme, links
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
from lessonpress.records.problem import Place, Problem, Problems

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


@dataclass(frozen=True)
class Outcome:
    """What a press came to. pressed: the lessons pressed anew."""

    state: str
    number: int
    pressed_at: str | None = None
    seconds: float = 0.0
    pressed: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    lessons: tuple[str, ...] = ()
    summary: str | None = None

    def json(self) -> dict[str, Any]:
        return {
            "state": self.state,
            "number": self.number,
            "pressed_at": self.pressed_at,
            "seconds": round(self.seconds, 2),
            "pressed": list(self.pressed),
            "summary": self.summary,
            "problems": problems_json(self.problems),
            "pages": {name: f"/proof/{links.lesson(name)}" for name in self.lessons},
        }


@dataclass
class Proof:
    """One press at a time. folder: SITE/build/proof, made anew when the desk opens."""

    studio: Studio
    outcome: Outcome = Outcome("none", 0)
    bound_anew: int = 0  # lessons measured and bound since the desk opened
    pages_anew: int = 0  # lessons' pages rendered
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _kept: dict[str, Kept] = field(default_factory=dict)
    _good: dict[str, Good] = field(default_factory=dict)
    _written: dict[str, str] = field(default_factory=dict)  # path → version of what stands there

    @property
    def folder(self) -> Path:
        return self.studio.root / "build" / "proof"

    def open(self) -> None:
        """An empty folder: what an earlier desk left may be of another site altogether."""
        shutil.rmtree(self.folder, ignore_errors=True)
        self.folder.mkdir(parents=True)

    def press(self) -> Outcome:
        """Presses what changed since the last time."""
        with self._lock:
            began = time.monotonic()
            self.outcome = replace(self.outcome, state="pressing")
            pressed_now, problems, names = self._press(self.studio.seen())
            faulty = any(one.severity == "error" for one in problems)
            self.outcome = Outcome(
                state="faulty" if faulty else "good",
                number=self.outcome.number + 1,
                pressed_at=datetime.now(UTC).isoformat(timespec="seconds"),
                seconds=time.monotonic() - began,
                pressed=pressed_now,
                problems=tuple(problems),
                lessons=names,
                summary=_summary(pressed_now, names, problems),
            )
            return self.outcome

    def failed(self, reason: str) -> None:
        """A press that the machine stopped: what was pressed before still stands."""
        self.outcome = replace(self.outcome, state="faulty", number=self.outcome.number + 1, summary=reason)

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

    def _press(self, seen: Seen) -> tuple[tuple[str, ...], list[Problem], tuple[str, ...]]:
        site = seen.site
        if site is None:
            return (), seen.problems.in_order(), tuple(self._good)
        found = Problems(list(seen.problems.found))
        indexes = self._indexes(site, found)
        anew = self._bind(site, indexes, found)
        for name in (self._kept.keys() | self._good.keys()) - {lesson.name for lesson in pressed(site)}:
            self._kept.pop(name, None)
            if site.lesson(name) or not (self.studio.root / "lessons" / f"{name}.md").is_file():
                self._good.pop(name, None)  # a draft, or gone; one that cannot be read stays as it last was
        for kept in self._kept.values():
            found.extend(kept.problems)
        problems = Problems(found.in_order())
        shown = self._shown(site, problems.found)
        self._print(site, shown, indexes, problems)
        return anew, problems.in_order(), tuple(lesson.lesson.name for lesson in shown)

    def _indexes(self, site: Site, found: Problems) -> dict[str, ClipIndex]:
        """By clip; a video that cannot be read is told at its card."""
        indexes = {}
        used = {clip for lesson in pressed(site) for clip in clips_of(lesson, site)}
        for name in sorted(used):
            clip = site.clips[name]
            if clip.card is None or clip.video is None or not clip.video.is_file():
                continue  # told by reading
            try:
                indexes[name] = self.studio.index(clip)
            except RefusedError as error:
                found.error(clip.card.place_of("video"), error.reason, error.way_out)
        return indexes

    def _bind(self, site: Site, indexes: dict[str, ClipIndex], found: Problems) -> tuple[str, ...]:
        """Measures the lessons whose sources changed, then those that follow numbers of these."""
        keys = {lesson.name: self._key(site, lesson, indexes) for lesson in pressed(site)}
        stale = {name for name, key in keys.items() if name not in self._kept or self._kept[name].key != key}
        lessons = {lesson.name: lesson for lesson in pressed(site)}
        following = {name for name in lessons if _follows(lessons[name])}
        if stale:
            stale |= following
        films: dict[str, Filmed | None] = dict.fromkeys(site.clips)
        told: dict[str, list[Problem]] = {}
        for clip in sorted(
            {clip for name in stale for clip in clips_of(lessons[name], site) if clip in indexes}
        ):
            films[clip], told[clip] = self._filmed(site, clip)
        begun: dict[str, tuple[Begun, Problems]] = {}
        for name in lessons:
            if name in stale:
                problems = Problems(
                    [one for clip in clips_of(lessons[name], site) for one in told.get(clip, [])]
                )
                begun[name] = (begin(lessons[name], site, films, problems), problems)
        others = {name: kept.begun.bound for name, kept in self._kept.items() if name in lessons}
        others |= {name: made.bound for name, (made, _) in begun.items()}
        for name, (made, problems) in begun.items():
            bound = finish(made, others, site, films, problems)
            self._kept[name] = Kept(keys[name], made, bound, tuple(problems.found))
            self.bound_anew += 1
        return tuple(begun)

    def _filmed(self, site: Site, name: str) -> tuple[Filmed | None, list[Problem]]:
        problems = Problems()
        try:
            return self.studio.filmed(site.clips[name], problems, press=True), problems.found
        except RefusedError as error:
            problems.error(Place(site.clips[name].path), error.reason, error.way_out)
            return None, problems.found

    def _key(self, site: Site, lesson: Lesson, indexes: dict[str, ClipIndex]) -> str:
        """What a lesson is made from: its own text, what all share, its clips' files."""
        root = self.studio.root
        parts = [version_of(bytes_of(root / path)) for path in (lesson.path, *SHARED)]
        for clip in sorted(clips_of(lesson, site)):
            folder = site.clips[clip].folder
            parts += [
                clip,
                *(version_of(bytes_of(folder / name)) for name in ("clip.yaml", "marks.yaml", "tracks.csv")),
            ]
            parts.append(indexes[clip].fingerprint if clip in indexes else "")
        return _hash(parts)

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
        shown: tuple[BoundLesson, ...],
        indexes: dict[str, ClipIndex],
        problems: Problems,
    ) -> None:
        whole = BoundSite(site, shown, owed_by(shown))
        fresh = [one for one in shown if not self._good[one.lesson.name].page]
        for one in fresh:
            alone = BoundSite(site, (one,), owed_by((one,)))
            made = pictures_of(alone, indexes, self.studio.cache, Silent(), problems)
            self._good[one.lesson.name].printings = made
        theme = Theme.named(site.theme)
        pages = PageStudio(whole, self._book(), theme, theme.words(site.language))
        files: set[str] = set()
        for path, content in self._common(pages, whole):
            self._put(path, content)
            files.add(path)
        for one in shown:
            good = self._good[one.lesson.name]
            if one in fresh:
                good.paths = frozenset(self._lesson_files(one, whole, indexes, pages.words["plate"]["word"]))
            files |= good.paths
            files.add(self._page(one, shown, pages))
        self._sweep(files)

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
        made_from = _hash([*near, *topics])
        path = links.lesson(one.lesson.name)
        if good.page != made_from or path not in self._written:
            page = LessonPage(one, pages)
            self._put(path, page.content(beside))
            good.page = made_from
            self.pages_anew += 1
        return path

    def _lesson_files(
        self, one: BoundLesson, whole: BoundSite, indexes: dict[str, ClipIndex], plate_word: str
    ) -> Iterator[str]:
        """Writes a lesson's pictures, diagrams and loops; their paths."""
        by_shot = self._printings(one)
        cache = self.studio.cache
        made = diagrams(one, whole.site.units, plate_word, lambda panel: by_shot[shot_of(panel)][-1].place)
        alone = replace(whole, lessons=(one,))
        for path, content in drawn(made, cache, Silent()):
            self._put(path, content)
            yield path
        try:
            for path, content in loops(alone, indexes, cache, Silent()):
                self._put(path, content)
                yield path
        except FootageError:
            return  # told when its pictures were taken
        for printings in by_shot.values():
            for printing in printings:
                if printing.href not in self._written:
                    self._put(printing.href, printing.place.read_bytes())
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


def _summary(anew: tuple[str, ...], names: tuple[str, ...], problems: Iterable[Problem]) -> str:
    severities = [one.severity for one in problems]
    counts = [f"{severities.count(word)} {word}s" for word in ("error", "warning") if word in severities]
    return ", ".join([f"{len(anew)} of {len(names)} lessons pressed", *counts])
