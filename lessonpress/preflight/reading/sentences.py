"""Sentences of a run, and clauses of a sentence, at their offsets."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

from lessonpress.manuscript import Reference, Run
from lessonpress.preflight.reading.wordlist import WordList
from lessonpress.records import Location

_LONGEST = 4000  # characters; what runs on for longer is no sentence, and is not read as one
T = TypeVar("T", bound=tuple[Any, ...])

_CAPITAL = "A-ZÀ-ÖØ-ÞŒŠŽ"
_END = re.compile(rf"(?<=[.!?…])[\"”“’‘»«')\]]*\s+(?=[\"“„‘‚«»'(\[]?[{_CAPITAL}0-9{{])|\n\s*\n")
_CLAUSE = re.compile(r"[,;:—–()](?!\d)|\s-\s")
_QUOTED = re.compile(r"“[^”]*”|\"[^\"]*\"|«[^»]*»|„[^“”]*[“”]|»[^«]*«|‚[^‘’]*[‘’]")


@dataclass(frozen=True)
class Sentence:
    """start, end: its offsets in the run's text. before: the sentence before it in the run.

    references: start and end are offsets in `text`. sourced: whether a link or a footnote is in it.
    words: of the language, None where there are none.
    """

    run: Run
    start: int
    end: int
    before: Sentence | None = None
    references: tuple[tuple[int, int, Reference], ...] = ()
    sourced: bool = False
    words: WordList | None = None

    @cached_property
    def text(self) -> str:
        """With quotations blanked: what is quoted is somebody's word and not the lesson's."""
        written = self.run.text[self.start : self.end]
        return _QUOTED.sub(lambda quoted: " " * len(quoted[0]), written)

    @property
    def said(self) -> str:
        """As written, for the digest of a finding."""
        return self.run.written.text[self.start : self.end]

    @property
    def asks(self) -> bool:
        """Whether it is a question, which claims nothing."""
        return self.text.rstrip(" \n\"”“’‘»«')").endswith("?")

    def at(self, offset: int) -> Location:
        """Where the character at an offset of `text` is written."""
        return self.run.at(self.start + offset)

    @cached_property
    def _cuts(self) -> tuple[tuple[int, int], ...]:
        cuts = [cut.span() for cut in _CLAUSE.finditer(self.text)]
        if self.words is not None:
            cuts += [word.span() for word in self.words.any_of("clauses").finditer(self.text)]
        return tuple(sorted(cut for cut in cuts if not self._is_in_a_measure(cut[0])))

    def _is_in_a_measure(self, offset: int) -> bool:
        at = bisect_right(self.references, offset, key=lambda reference: reference[0])
        return at > 0 and offset < self.references[at - 1][1]

    def clause(self, offset: int) -> str:
        """The clause round an offset of `text`."""
        at = bisect_right(self._cuts, (offset, len(self.text)))
        start = self._cuts[at - 1][1] if at else 0
        end = self._cuts[at][0] if at < len(self._cuts) else len(self.text)
        return self.text[start:end]


def sentences_of(runs: Iterable[Run], words: WordList | None = None) -> Iterator[Sentence]:
    for run in runs:
        yield from _sentences(run, words)


def _ends(text: str, words: WordList | None) -> Iterator[int]:
    """Where sentences end, but after a full stop that belongs to a word, as in "e.g."."""
    going_on = {one.end() for one in words.any_of("no_end").finditer(text)} if words else set()
    for cut in _END.finditer(text):
        if cut.start() not in going_on or "\n\n" in cut[0]:
            yield cut.start()
    yield len(text)


def _sentences(run: Run, words: WordList | None) -> Iterator[Sentence]:
    before, start = None, 0
    references, sources = deque(run.references()), deque(run.sourced)
    for end in _ends(run.text, words):
        first = end - len(run.text[start:end].lstrip())
        if first < end <= first + _LONGEST:
            there = tuple((a - first, b - first, one) for a, b, one in _until(end, references))
            before = Sentence(run, first, end, before, there, bool(list(_until(end, sources))), words)
            yield before
        start = end


def _until(end: int, spans: deque[T]) -> Iterator[T]:
    """Takes from the front those spans that begin before an offset."""
    while spans and spans[0][0] < end:
        yield spans.popleft()
