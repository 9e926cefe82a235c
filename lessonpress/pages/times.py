"""When the events of a lesson's clips happen, as the page prints it."""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.figures import BoundLesson, ClipFacts, Timed
from lessonpress.measure import printed
from lessonpress.overlays import event_words


@dataclass(frozen=True)
class Moment:
    """An event or a part of the swing. seconds and pm are rounded to each other; frames in words."""

    name: str
    seconds: str
    pm: str
    frames: tuple[int, ...]


@dataclass(frozen=True)
class ClipTimes:
    facts: ClipFacts
    events: tuple[Moment, ...]
    parts: tuple[Moment, ...]


def times_of(bound: BoundLesson) -> tuple[ClipTimes, ...]:
    """For each clip that the lesson shows and whose card names events."""
    return tuple(
        ClipTimes(facts, tuple(map(_moment, facts.events)), tuple(map(_moment, facts.parts)))
        for facts in bound.clips
        if facts.events
    )


def _moment(timed: Timed) -> Moment:
    if timed.pm <= 0:
        return Moment(event_words(timed.name), f"{timed.seconds:.2f}", "", timed.frames)
    number = printed(timed.seconds, timed.pm, "ratio", "in")  # seconds are printed as they are
    return Moment(event_words(timed.name), number.value, number.pm, timed.frames)
