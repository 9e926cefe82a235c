"""A lesson's text as it is typed, read and bound as the press does it, and nothing saved.

Measuring is what takes long, and rests on the figures alone: it is kept while only other words change.
"""

from __future__ import annotations

import threading
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from lessonpress.desk.files.lessonfile import LONGEST, blocks_json
from lessonpress.desk.http.responses import RequestError
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.work.drafts import films_of, followed
from lessonpress.desk.writing.known import Known
from lessonpress.desk.writing.offers import offers_at
from lessonpress.desk.writing.place import place_of
from lessonpress.desk.writing.slips import slip_json
from lessonpress.figures import (
    Begun,
    BoundLesson,
    SurveyedClip,
    begin_lesson,
    check_complete,
    finish_lesson,
)
from lessonpress.manuscript import Block, Lesson, Reference, Site, with_text
from lessonpress.records import Location, Problem, Problems

TEMPO = "tempo"


@dataclass(frozen=True)
class _Measured:
    """A lesson's panels measured, what they were measured from, and what was wrong."""

    made_from: tuple[object, ...]
    films: tuple[SurveyedClip | None, ...]
    begun: Begun
    problems: tuple[Problem, ...]

    def is_of(self, made_from: tuple[object, ...], films: tuple[SurveyedClip | None, ...]) -> bool:
        same = len(films) == len(self.films) and all(
            mine is other for mine, other in zip(self.films, films, strict=True)
        )
        return same and self.made_from == made_from


@dataclass
class Drafting:
    """One for a desk. Safe to ask from several threads: one lesson is measured at a time."""

    live: LiveSite
    measured_anew: int = 0  # lessons measured since the desk opened, each as often as it was
    _kept: dict[str, _Measured] = field(default_factory=dict)
    _measuring: threading.Lock = field(default_factory=threading.Lock)

    def offers_json(self, name: str, before: str, after: str) -> dict[str, Any]:
        """What `POST /api/lessons/NAME/offers` answers."""
        _bearable(before + after)
        place = place_of(before, after)
        if place is None:
            return {"of": "", "typed": "", "over": "", "offers": []}
        made = offers_at(place, _Text(self, name, before + after).known)
        return {
            "of": made.of,
            "typed": place.typed,
            "over": after[: place.over],
            "offers": [vars(one) for one in made.rows],
        }

    def slips(self, name: str, text: str) -> dict[str, Any]:
        """What `POST /api/lessons/NAME/slips` answers."""
        _bearable(text)
        read = _Text(self, name, text)
        problems = Problems(list(read.problems.collected))
        bound = read.bound(problems)
        if bound is not None and not problems.errors:
            check_complete(bound, problems)
        path = f"lessons/{name}.md"
        own = [one for one in problems.listed() if one.location.path == path]
        return {"problems": [slip_json(one) for one in own], "blocks": blocks_json(read.lesson)}

    def follow(self, name: str) -> BoundLesson | None:
        """A lesson as it is on disk, for a chart over it; None for one that is not pressed."""
        site = self.live.site()
        lesson = site.lesson(name)
        if lesson is None or lesson not in site.pressed:
            return None
        films = films_of(self.live, site, lesson, Problems())
        return self.measured(site, lesson, films, Problems()).bound

    def measured(
        self, site: Site, lesson: Lesson, films: Mapping[str, SurveyedClip | None], problems: Problems
    ) -> Begun:
        """The lesson with its panels measured, its mistakes where its text has them now."""
        seen = tuple(films[name] for name in sorted(films))
        made_from = (site.file, lesson.clip, lesson.location_of("clip").line, *map(_said, lesson.blocks))
        with self._measuring:
            kept = self._kept.get(lesson.name)
            if kept is None or not kept.is_of(made_from, seen):
                own = Problems()
                self.measured_anew += 1
                begun = begin_lesson(_with_tempo(lesson), site, films, own)
                kept = self._kept[lesson.name] = _Measured(made_from, seen, begun, tuple(own.collected))
        problems.extend(_moved(kept.problems, kept.begun.bound.lesson, lesson))
        return replace(kept.begun, bound=replace(kept.begun.bound, lesson=lesson))


@dataclass(frozen=True)
class _Text:
    """A text in the place of a lesson's file."""

    drafting: Drafting
    name: str
    text: str

    @cached_property
    def _read(self) -> tuple[Site | None, Problems]:
        problems = Problems()
        return with_text(self.drafting.live.site(), self.name, self.text, problems), problems

    @property
    def problems(self) -> Problems:
        return self._read[1]

    @property
    def site(self) -> Site:
        return self._read[0] or self.drafting.live.site()

    @property
    def lesson(self) -> Lesson | None:
        """None where the front matter makes none: what the file holds may be another."""
        return self._read[0].lesson(self.name) if self._read[0] else None

    @property
    def known(self) -> Known:
        return Known(self.site, self.lesson, self._film, lambda: self.bound(Problems()))

    def _film(self, clip: str) -> SurveyedClip | None:
        try:
            return self.drafting.live.filmed(self.site.clips[clip], Problems())
        except RequestError:  # its card has mistakes, which are reported there
            return None

    def bound(self, problems: Problems) -> BoundLesson | None:
        """The lesson bound to its clips, and what is wrong with that."""
        if self.lesson is None:
            return None
        begun = self._begun(self.lesson, problems)
        others = {
            name: self._begun(other, Problems()).bound
            for name in followed(begun)
            if (other := self.site.lesson(name)) in self.site.pressed and other is not None
        }
        return finish_lesson(begun, others, self.site, problems)

    def _begun(self, lesson: Lesson, problems: Problems) -> Begun:
        films = films_of(self.drafting.live, self.site, lesson, problems)
        return self.drafting.measured(self.site, lesson, films, problems)


def _bearable(text: str) -> None:
    if len(text) > LONGEST:
        raise RequestError(413, "this text is too long for a lesson", "part it in two")


def _with_tempo(lesson: Lesson) -> Lesson:
    """The lesson as if it printed the tempo of its clip, which is measured only where a text asks for it."""
    asked = Reference(TEMPO, None, Location(lesson.path))
    return replace(lesson, references=(*lesson.references, asked))


def _said(block: Block) -> tuple[object, ...]:
    """All of a block that its measures and the columns of its mistakes rest on."""
    return block.kind, block.text, block.location.column, block.example is None


def _moved(problems: Iterable[Problem], was: Lesson, now: Lesson) -> Iterator[Problem]:
    """Problems of a lesson whose blocks are the same, in other lines now."""
    down = {
        line: new.line - old.line
        for old, new in zip(was.blocks, now.blocks, strict=True)
        for line in range(old.line, old.line + old.text.count("\n") + 3)
    }
    for one in problems:
        by = down.get(one.location.line, 0) if one.location.path == now.path else 0
        yield replace(one, location=replace(one.location, line=one.location.line + by)) if by else one
