"""The order in which a press asks for its steps, and the work done for many lessons at once.

The steps (`steps/table.py`) make one product each. What takes long is done by several processes, what there
is most of first: videos are played, and the pictures of all lessons taken, in one pass of each clip;
lessons are measured by clip, then printed one by one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from lessonpress.press.compressing import WORTH_IT
from lessonpress.press.progress import Progress
from lessonpress.press.steps.apart import WORTH_A_POOL, begin_apart, make_apart
from lessonpress.press.steps.dockets import Put
from lessonpress.press.steps.uses import Key
from lessonpress.press.steps.works import Works
from lessonpress.records import Problem, Problems

if TYPE_CHECKING:
    from lessonpress.figures import BoundSite
    from lessonpress.preflight import Answering

LED_TO = ("page", "card", "ledger", "diagrams", "loops", "pictures")  # a lesson's page, and what it leads to
OF_A_LESSON = (*LED_TO, "letter pictures", "sheets", "lesson kept")
AT_ONE_ADDRESS = ("page", "card", "lesson kept")  # the others lie at a lesson's earlier addresses too
MADE_APART = (
    "loops",
    "diagrams",
    "letter pictures",
    "sheets",
    "page",
    "card",
    "looked at",
)  # those of a lesson that take long
_AT_ONCE = 100  # lessons whose pictures are taken in one go
OF_THE_SITE = (
    "home",
    "archive",
    "topics page",
    "glossary page",
    "search page",
    "settings",
    "notes",
    "not found",
    "feeds",
    "sitemap",
    "all measures",
)


@dataclass(frozen=True)
class Schedule:
    """The site that `works` presses."""

    works: Works
    progress: Progress

    @property
    def lessons(self) -> tuple[str, ...]:
        """The names of those that get a page, newest first."""
        names: tuple[str, ...] = self.works.value(_key("pressed"))
        return names

    def read(self) -> Problems:
        """Everything the author wrote, and what is wrong with it."""
        problems, anew = Problems(), not self.works.dockets.of  # a press from nothing
        names = {folder: self.works.value(_key("names", folder)) for folder in ("lessons", "clips", "pages")}
        if anew and len(names["lessons"]) >= WORTH_A_POOL:
            begin_apart()
        linking = [f"lessons/{name}.md" for name in self.lessons]
        linking += [f"pages/{name}.md" for name in names["pages"]]
        taken_in = make_apart(self.works, self._stills_linked(linking))
        asked = [_key("site.yaml"), _key("glossary")]
        asked += [_key("names", "lessons"), *(_key("lesson", name) for name in names["lessons"])]
        asked += [_key("names", "clips"), *(_key("clip", name) for name in names["clips"])]
        asked += [_key("names", "pages"), *(_key("text", name) for name in names["pages"])]
        asked += [_key("among lessons"), _key("withdrawn"), *(_key("linked files", path) for path in linking)]
        for key in asked:
            problems.extend(self._problems_of(key))
        for _ in taken_in:
            pass
        asked = [_key("links", path) for path in linking]
        asked += [_key("attached"), _key("root files")]
        asked += [_key(step, path) for path in self.stills() for step in ("still card", "still")]
        asked += [_key("attached file", path) for path in self.works.value(_key("attached"))]
        asked += [_key("root file", path) for path in self.works.value(_key("root files"))]
        for key in asked:
            problems.extend(self._problems_of(key))
        return problems

    def _stills_linked(self, linking: Iterable[str]) -> list[list[Key]]:
        """The author's own pictures that these texts show and that are to be made ready, each by itself."""
        from lessonpress.footage import is_still

        linked = {path for text in linking for path in self.works.value(_key("linked files", text))}
        return [self._unmade([_key("still", path)]) for path in sorted(linked) if is_still(path)]

    def stills(self) -> list[str]:
        """The author's own pictures that are published."""
        from lessonpress.footage import is_still

        return [path for path in self.works.value(_key("attached")) if is_still(path)]

    def still_cards_of(self, name: str) -> list[str]:
        """Where the cards of the pictures lie that a lesson shows or links to."""
        from lessonpress.footage import is_still
        from lessonpress.manuscript import still_card_of

        links = self.works.value(_key("links", f"lessons/{name}.md"))
        return [still_card_of(path) for path in links if is_still(path)]

    @property
    def there(self) -> bool:
        """Whether site.yaml makes a site."""
        return self.works.value(_key("site.yaml")) is not None

    def theme(self) -> Problems | None:
        """What is wrong with the theme; None where it can be used."""
        if self.works.value(_key("theme")) is not None:
            return None
        return Problems(list(self._problems_of(_key("theme"))))

    def measure(self, problems: Problems) -> None:
        """Every clip played, every lesson measured and bound. problems: those so far, added to."""
        clips = sorted(self.works.value(_key("clips in use")))
        self._play([clip for clip in clips if not self.works.good(_key("played", clip))])
        asked = [_key("played", clip) for clip in clips]
        asked += [_key("plausible", clip) for clip in clips]
        asked += [_key("measured", name) for name in self.oldest_first]
        self._make("measuring", self._by_clip(clips))
        for key in asked:
            problems.extend(self._problems_of(key))
        for name in self.oldest_first:
            problems.extend(self._problems_of(_key("bound", name)))
        if not problems.errors:
            for name in self.lessons:
                problems.extend(self._problems_of(_key("whole", name)))

    def look(self, problems: Problems) -> None:
        """What an author should look at before it is published. problems: those so far, added to."""
        for name in self.oldest_first:
            problems.extend(self._problems_of(_key("looked at", name)))
        for name in self.works.value(_key("page heads")):
            problems.extend(self._problems_of(_key("page looked at", name)))
        problems.collected = [one for one in problems.collected if not self._is_answered(one)]

    def _is_answered(self, problem: Problem) -> bool:
        """Whether a warning is meant so, as the file that it is of says."""
        if problem.severity == "error":
            return False
        from lessonpress.preflight import finding_of

        head = self.head_of(problem.location.path)
        return head is not None and finding_of(problem).id in head.meant

    def head_of(self, path: str) -> Answering | None:
        """What of an author's file can hold answers; a clip's marks are answered for on its card."""
        still = path.removesuffix(".yaml")
        if path != still and still in self.stills():
            card: Answering | None = self.works.value(_key("still card", still))
            return card
        folder, _, name = path.partition("/")
        head: Answering | None = None
        if folder == "lessons":
            head = self.works.value(("heads", "", name.removesuffix(".md")))
        elif folder == "pages":
            head = self.works.value(("page heads", "", name.removesuffix(".md")))
        elif folder == "clips" and name.partition("/")[0] in self.works.value(_key("names", "clips")):
            head = self.works.value(_key("clip", name.partition("/")[0])).card
        return head

    def _by_clip(self, clips: list[str]) -> list[list[Key]]:
        """What is to be measured in groups that share a clip, whose camera is solved once; largest first."""
        groups: dict[str, list[Key]] = {clip: [_key("plausible", clip)] for clip in clips}
        for name in self.oldest_first:
            if not self.works.good(_key("measured", name)):
                group = groups.setdefault(next(iter(self.clips_of(name)), ""), [])
                group += [
                    _key(step, name) for step in ("measured", "bound")[: 1 if self.follows(name) else 2]
                ]
        return sorted(map(self._unmade, groups.values()), key=len, reverse=True)

    def _by_lesson(self) -> dict[str, list[Key]]:
        """What is to be made for each lesson's folder; those with the most to draw first."""
        groups = {name: [_key(step, name) for step in MADE_APART] for name in self.lessons}
        searched = self.works.value(_key("searched"))
        for part in self.works.value(_key("search parts")):
            for name in searched[part]:
                if part.isdecimal():  # a year; the other part is plain pages
                    groups[name].append(_key("lesson searched", name))
        left = {name: self._unmade(keys) for name, keys in groups.items()}
        unmade = {name: keys for name, keys in left.items() if keys}
        pictures = {name: self._pictures_of(name) for name in unmade}
        return {name: unmade[name] for name in sorted(unmade, key=lambda name: pictures[name], reverse=True)}

    def _pictures_of(self, name: str) -> int:
        """How many pictures with overlays a lesson has, those of loops among them."""
        plates = self.works.value(("bound", name, "plates"))
        loops = sum(len(plate.loop.panels) for plate in plates if plate.loop is not None)
        return loops + sum(len(plate.panels) for plate in plates)

    def _unmade(self, keys: Iterable[Key]) -> list[Key]:
        return [key for key in keys if not self.works.good(key)]

    @property
    def oldest_first(self) -> tuple[str, ...]:
        return tuple(reversed(self.lessons))

    def print_pictures(self, problems: Problems) -> None:
        """The pictures of all lessons."""
        self._take([name for name in self.lessons if not self.works.good(_key("pictures", name))])
        for name in self.lessons:
            problems.extend(self._problems_of(_key("pictures", name)))

    def print_lessons(self, problems: Problems) -> None:
        """The pages, diagrams and loops of all lessons. problems: those so far, added to."""
        groups = self._by_lesson()
        # Of a lesson without pictures no more than its page takes any time.
        costly = sum(len(keys) if self._pictures_of(name) else 1 for name, keys in groups.items())
        self._make("pressing lessons", list(groups.values()), costly)
        for name in self.lessons:
            problems.extend(self._problems_of(_key("loops", name)))

    def put_out(self) -> Iterator[tuple[Key, Put]]:
        """Every file of the site, with the product that puts it out."""
        for name in self.lessons:
            yield from self.of_a_lesson(name)
        yield from self.of_the_theme()
        yield from self.of_the_site()
        yield from self.puts_of("site kept")

    def of_the_theme(self) -> Iterator[tuple[Key, Put]]:
        """The style sheet, the fonts and the scripts of all pages."""
        yield from self.puts_of("style")
        yield from self.puts_of("scripts")

    def of_the_site(self) -> Iterator[tuple[Key, Put]]:
        """What all lessons have a part in, and the pages and files that are no lesson's."""
        for step in OF_THE_SITE:
            yield from self.puts_of(step)
        for part in self.works.value(_key("search parts")):
            yield from self.puts_of("search", part)
        for year in self.works.value(_key("years")).older:
            yield from self.puts_of("year", str(year))
        for slug in self.works.value(_key("topics")):
            yield from self.puts_of("topic", slug)
            yield from self.puts_of("topic feeds", slug)
        for name in self.works.value(_key("page heads")):
            yield from self.puts_of("plain", name)
        for path in self.works.value(_key("attached")):
            yield from self.puts_of("attached file", path)
        for path in self.works.value(_key("root files")):
            yield from self.puts_of("root file", path)

    def of_a_lesson(self, name: str, steps: tuple[str, ...] = OF_A_LESSON) -> Iterator[tuple[Key, Put]]:
        """With its files at its earlier addresses too: a diagram in a newsletter keeps its picture."""
        former = [path for path in self.works.value(_key("former", name)) if _names_a_lesson(path)]
        start = f"lessons/{self.folder_of(name)}/" if former else ""
        for step in steps:
            for key, put in self.puts_of(step, name):
                yield key, put
                if step not in AT_ONE_ADDRESS and put.path.startswith(start):
                    for path in former:
                        yield key, put._replace(path=f"{path}/{put.path.removeprefix(start)}")
        yield from self.puts_of("former", name)

    def puts_of(self, step: str, of: str = "") -> Iterator[tuple[Key, Put]]:
        """What one product puts out."""
        key = _key(step, of)
        for put in self.works.docket(key).puts:
            yield key, put
            if self.works.inputs.options.compressed and put.shelf and put.path.endswith(WORTH_IT):
                yield from self._compressed(key, put)

    def _compressed(self, key: Key, put: Put) -> Iterator[tuple[Key, Put]]:
        """A file in its smaller forms. Those of the author's own stay as they are."""
        made = _key("compressed", f"{put.shelf}/{put.name}")
        if not self.works.good(made):
            self.works.content(key, put)  # made again where what was kept of it has gone
        for one in self.works.docket(made).puts:
            yield made, one._replace(path=f"{put.path}{one.path}")

    # one lesson at a time

    def folder_of(self, name: str) -> str:
        """The folder of a lesson's page under `lessons/`."""
        folder: str = self.works.value(("heads", "", name)).folder
        return folder

    def clips_of(self, name: str) -> tuple[str, ...]:
        """The clips there are that a lesson's figures are taken from."""
        clips = self.works.value(("head", name, "clips")) & self.works.value(_key("named", "clips"))
        return tuple(sorted(clips))

    def follows(self, name: str) -> bool:
        """Whether a lesson charts numbers of others."""
        return any(block.kind == "progress" for block in self.works.value(("lesson", name, "blocks")))

    @property
    def hidden(self) -> frozenset[str]:
        """The lessons that can be read and get no page."""
        return frozenset(self.works.value(_key("heads"))) - frozenset(self.lessons)

    def measure_one(self, name: str) -> None:
        """A lesson bound to its clips, which are played first where that is to be done."""
        clips = self.clips_of(name)
        self._play([clip for clip in clips if not self.works.good(_key("played", clip))])
        self.works.sure(_key("bound", name))

    def bound(self, lessons: Iterable[str]) -> BoundSite:
        """The site with these lessons, bound."""
        from lessonpress.figures import BoundSite, frames_shown
        from lessonpress.press.steps.reader import Reader
        from lessonpress.press.steps.seen import SeenSite

        bound = tuple(self.works.value(_key("bound", name)) for name in lessons)
        return BoundSite(SeenSite(Reader(self.works)), bound, frames_shown(bound))

    def problems_of_lesson(self, name: str) -> Problems:
        """What is wrong with a lesson and its clips, and what an author should look at."""
        problems = self.faults_of_lesson(name)
        if not problems.errors:
            problems.extend(self._problems_of(_key("looked at", name)))
        problems.collected = [one for one in problems.collected if not self._is_answered(one)]
        return problems

    def faults_of_lesson(self, name: str) -> Problems:
        """What is wrong with a lesson, and with its clips held against their footage."""
        problems = Problems()
        for clip in self.clips_of(name):
            problems.extend(self._problems_of(_key("played", clip)))
            problems.extend(self._problems_of(_key("plausible", clip)))
        for step in ("measured", "bound"):
            problems.extend(self._problems_of(_key(step, name)))
        return problems

    def problems_of_text(self, name: str) -> Problems:
        """What is wrong with a lesson's file, its links and the pictures that it shows."""
        path = f"lessons/{name}.md"
        keys = (_key("lesson", name), _key("linked files", path), _key("links", path), _key("pictures", name))
        return Problems([one for key in keys for one in self._problems_of(key)])

    def _problems_of(self, key: Key) -> tuple[Problem, ...]:
        return self.works.docket(key).problems

    # many at once

    def _make(self, what: str, groups: list[list[Key]], costly: int | None = None) -> None:
        count = sum(map(len, groups))
        if count:
            self.progress.begin(what, count)
        for made in make_apart(self.works, groups, costly):
            self.progress.step(made)

    def _play(self, clips: list[str]) -> None:
        if not clips:
            return
        from lessonpress.press.indexes import indexes_of
        from lessonpress.press.steps.reader import Reader
        from lessonpress.press.steps.seen import clip_of
        from lessonpress.press.studies import studies_of

        reader = Reader(self.works)
        used = [clip_of(reader, name) for name in clips]
        works = self.works
        indexes = indexes_of(used, works.inputs.file_hashes, works.cache, self.progress, Problems())
        studies_of(used, indexes, works.cache, self.progress, Problems())

    def _take(self, lessons: list[str]) -> None:
        if not lessons:
            return
        from lessonpress.press.pictures import pictures_of
        from lessonpress.press.steps.prints import indexes
        from lessonpress.press.steps.reader import Reader

        for some in self._by_first_clip(lessons):
            site = self.bound(some)
            by_clip = indexes(Reader(self.works), site)
            pictures_of(site, by_clip, self.works.cache, self.progress, Problems())

    def _by_first_clip(self, lessons: list[str]) -> Iterator[list[str]]:
        """Lessons in parts that memory holds, those of one clip in one, so that it is played once."""

        def first(name: str) -> str:
            return next(iter(self.clips_of(name)), "")

        part: list[str] = []
        for _, of_clip in groupby(sorted(lessons, key=first), key=first):
            part += of_clip
            if len(part) >= _AT_ONCE:
                yield part
                part = []
        if part:
            yield part


def _key(step: str, of: str = "") -> Key:
    return step, of, ""


def _names_a_lesson(path: str) -> bool:
    return path.startswith("lessons/") and path.count("/") == 1 and not path.endswith((".html", ".htm"))
