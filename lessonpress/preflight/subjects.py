"""What rules look at: the words of a text, a lesson bound to its clips, a site's clips, its pressed pages."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from urllib.parse import urlsplit

from lessonpress.figures import BoundLesson
from lessonpress.manuscript import Card, Clip, Lesson, Page, Run, StillCard, runs_of
from lessonpress.preflight.reading.sentences import Sentence, sentences_of
from lessonpress.preflight.reading.wordlist import WordList, word_list
from lessonpress.records import Location, Measure, Units

_MOST_ALIKE = 300  # groups of measures that a sentence is held against


@dataclass(frozen=True)
class WrittenSubject:
    """A lesson or a page by its words. language: the site's, a BCP 47 tag."""

    text: Lesson | Page
    language: str

    @cached_property
    def words(self) -> WordList | None:
        """The word lists of the language; None where there are none, and nothing is said of its words."""
        return word_list(self.language)

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        return tuple(runs_of(self.text))

    @cached_property
    def sentences(self) -> tuple[Sentence, ...]:
        return tuple(sentences_of(self.runs, self.words))

    @cached_property
    def _after(self) -> dict[int, Sentence]:
        return {id(one.before): one for one in self.sentences if one.before is not None}

    def after(self, sentence: Sentence) -> str:
        """The text of the sentence after one of this subject's in its run, "" where it is the last."""
        follows = self._after.get(id(sentence))
        return follows.text if follows else ""


class PageSubject(WrittenSubject):
    """A plain page."""


@dataclass(frozen=True)
class LessonSubject(WrittenSubject):
    """A lesson bound to its clips. cards: of the clips that its plates show, by name.

    ranges: the names that site.yaml gives to ranges.
    """

    bound: BoundLesson
    units: Units = "in"
    cards: Mapping[str, Card] = field(default_factory=dict)
    ranges: frozenset[str] = frozenset()

    @property
    def lesson(self) -> Lesson:
        return self.bound.lesson

    @property
    def measures(self) -> tuple[Measure, ...]:
        """Those with a number, in the order of the ledger."""
        return tuple(one for one in self.bound.measures.values() if one.value is not None)

    @cached_property
    def alike(self) -> tuple[list[Measure], ...]:
        """The measures by what they are of: those of one kind and of the same marks together."""
        groups: dict[tuple[str, tuple[str, ...]], list[Measure]] = {}
        for one in self.measures:
            groups.setdefault((one.kind, one.marks), []).append(one)
        return tuple(groups.values())[:_MOST_ALIKE]

    def measure_of(self, name: str) -> Measure | None:
        """The measure that prose calls by a name; None where there is none, or it has no number."""
        one = self.bound.named.get(name) or self.bound.measures.get(name)
        return one if one is not None and one.value is not None else None


@dataclass(frozen=True)
class ClipSubject:
    """A clip and what is made of it. lessons: that show it, by name. marks: those that are asked for.

    fingerprint: of its video, "" where that is not known. today: the day that consents are held against.
    """

    clip: Clip
    lessons: tuple[str, ...]
    marks: frozenset[str]
    today: date
    fingerprint: str = ""


@dataclass(frozen=True)
class StillSubject:
    """The card of a picture of the author's own. today: the day that consents are held against."""

    card: StillCard
    today: date


@dataclass(frozen=True)
class PressedSubject:
    """The site as it comes out. pages: HTML by path. sizes: bytes of every file by path.

    sources: the author's file and its text, by the path of the page. styles: those of the site's own theme,
    by their paths in the site. url: the site's address, "" for none.
    """

    pages: Mapping[str, str]
    sizes: Mapping[str, int]
    sources: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    styles: Mapping[str, str] = field(default_factory=dict)
    url: str = ""
    _ids: dict[str, frozenset[str]] = field(default_factory=dict, compare=False)

    def ids(self, page: str) -> frozenset[str]:
        """The fragments that a page can be led to by."""
        if page not in self._ids:
            self._ids[page] = frozenset(_ID.findall(self.pages[page]))
        return self._ids[page]

    def is_own(self, host: str) -> bool:
        """Whether a host is the site's own."""
        return bool(self.url) and (urlsplit(self.url).hostname or "").lower() == host

    def written_at(self, page: str, href: str) -> Location:
        """Where the author wrote a link of a page, as nearly as its text tells; else the file's start."""
        path, text = self.sources[page]
        wanted = href.partition("#")[2] if "#" in href and "//" not in href else href.rpartition("/")[2]
        for words in (href, wanted):
            for number, line in enumerate(text.split("\n"), 1):
                if words and words in line:
                    return Location(path, number, line.index(words) + 1, line)
        return Location(path)


_ID = re.compile(r'\sid="([^"]*)"')
Subject = WrittenSubject | ClipSubject | StillSubject | PressedSubject
