"""What rules look at: the words of a text, a lesson bound to its clips, a site's clips, its pressed pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from lessonpress.figures import BoundLesson
from lessonpress.manuscript import Card, Clip, Lesson, Page, Run, runs_of
from lessonpress.preflight.reading.sentences import Sentence, sentences_of
from lessonpress.preflight.reading.wordlist import WordList, word_list
from lessonpress.records import Measure, Units


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
        return tuple(sentences_of(self.runs))

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
        return tuple(groups.values())

    def measure_of(self, name: str) -> Measure | None:
        """The measure that prose calls by a name; None where there is none, or it has no number."""
        one = self.bound.named.get(name) or self.bound.measures.get(name)
        return one if one is not None and one.value is not None else None


@dataclass(frozen=True)
class SiteSubject:
    """The clips of a site, and its lessons. used: the marks that figures ask for, by clip."""

    clips: Mapping[str, Clip]
    lessons: tuple[Lesson, ...]
    used: Mapping[str, frozenset[str]]
    today: date


@dataclass(frozen=True)
class PressedSubject:
    """The pages as they come out. pages: HTML by path; sizes: bytes of every file by path.

    sources: the author's file and its text, by the path of the page.
    """

    pages: Mapping[str, str]
    sizes: Mapping[str, int]
    sources: Mapping[str, tuple[str, str]] = field(default_factory=dict)


Subject = WrittenSubject | SiteSubject | PressedSubject
