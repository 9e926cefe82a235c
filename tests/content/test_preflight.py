"""The demo and the handbook have nothing left to ask about that their author has not answered."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.figures.plates import BoundSite
from lessonpress.manuscript import clips_named
from lessonpress.preflight import (
    Answering,
    ClipSubject,
    Finding,
    LessonSubject,
    PageSubject,
    answered,
    finding_of,
    left_over,
    look_at,
    marks_used,
)
from tests.reading import Reading


def test_every_finding_and_every_warning_is_answered_and_no_answer_is_left_over(reading: Reading) -> None:
    assert reading.bound is not None
    assert [f"{one.location} {one.id}: {one.wrong}" for one in _open(reading, reading.bound)] == []


def _open(reading: Reading, content: BoundSite) -> Iterator[Finding]:
    for path, head, found in _looked(content):
        warned = [finding_of(one) for one in reading.problems.collected if one.location.path == path]
        looked = answered([*found, *warned], head)
        yield from (*looked.open, *left_over(looked.left, head))


def _looked(content: BoundSite) -> Iterator[tuple[str, Answering, list[Finding]]]:
    site = content.site
    for bound in content.lessons:
        cards = {facts.clip: site.clips[facts.clip].card for facts in bound.clips}
        subject = LessonSubject(bound.lesson, "en", bound, site.units, cards, frozenset(site.ranges))
        yield bound.lesson.path, bound.lesson, list(look_at(subject))
    for page in site.pages.values():
        yield page.path, page, list(look_at(PageSubject(page, "en")))
    for clip in site.clips.values():
        showing = [one.lesson for one in content.lessons if clip.name in clips_named(one.lesson)]
        names = tuple(one.name for one in showing)
        marks = marks_used(clip, showing, [node for nodes in site.sets.values() for node in nodes])
        yield clip.path, clip.card, list(look_at(ClipSubject(clip, names, marks, site.read_on)))
