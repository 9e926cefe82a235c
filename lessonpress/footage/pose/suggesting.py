"""The suggestions of given pictures, each picture by itself."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.bodymarks import PAIRED_SUGGESTED, places, posture
from lessonpress.footage.pose.doubts import doubts
from lessonpress.footage.pose.learnt import Learnt, learnt_for
from lessonpress.footage.pose.looks import Looks, looks_at
from lessonpress.footage.pose.person import SURE, person_in
from lessonpress.footage.pose.running import HOW_TO_GET_IT, can_suggest
from lessonpress.footage.pose.sides import sided
from lessonpress.footage.pose.square import Square
from lessonpress.records import Hand, Observation, Point, UsageError, View

Floats = NDArray[np.float64]

THERE = 0.3  # of 1: how sure each look must be of a body
WIDER = 1.4  # times the square: of a golfer bent over the ball it is found too small now and then
NO_PERSON = "no person is seen in it"
NO_BODY = "a person may be there, and where the body is cannot be seen"
NO_VIEW = "nothing is known of how bodies look from overhead"
NO_SIDES = "lead and trail cannot be told apart in it"


@dataclass(frozen=True)
class Guide:
    """A suggested place as tracking uses it. u: px per axis. side: of the square around the body, px. body:
    its points, as `bodymarks.posture` has them, px.
    """

    point: Point
    u: float
    side: float
    body: tuple[Point, ...] = ()


@dataclass(frozen=True)
class Suggestion:
    """What is suggested for one picture.

    rows: a place and its u for each mark, px. missing: mark → why there is none, in words. why: why there is
    nothing at all, "" where there is something or where each mark has a reason of its own. side: of the
    square around the body, px. body: its points, as `bodymarks.posture` has them, px.
    """

    frame: int
    rows: tuple[Observation, ...] = ()
    missing: Mapping[str, str] = field(default_factory=dict)
    why: str = ""
    side: float = 0.0
    body: tuple[Point, ...] = ()

    def guide(self, mark: str) -> Guide | None:
        """What tracking makes of a mark; None where it is not suggested."""
        row = next((row for row in self.rows if row.mark == mark), None)
        return None if row is None else Guide((row.x, row.y), row.u or 0.0, self.side, self.body)

    def without(self, marks: Collection[str]) -> Suggestion:
        """The same without some marks."""
        missing = {mark: why for mark, why in self.missing.items() if mark not in marks}
        return replace(self, rows=tuple(row for row in self.rows if row.mark not in marks), missing=missing)


def suggest_marks(
    pictures: Iterable[tuple[int, NDArray[np.uint8]]], view: View, hand: Hand, marks: Collection[str]
) -> Iterator[Suggestion]:
    """A suggestion for each picture (frame, RGB (h, w, 3)).

    marks: the names wanted, of `SUGGESTED`. Raises UsageError where the extra is not installed.
    """
    learnt = learnt_for(view)
    if learnt is not None and not can_suggest():
        raise UsageError(HOW_TO_GET_IT)
    for frame, picture in pictures:
        if learnt is None:
            yield Suggestion(frame, why=NO_VIEW)
            continue
        person = person_in(picture)
        if person.sure < SURE:
            yield Suggestion(frame, why=NO_PERSON)
            continue
        looks = _looks(picture, person.square)
        if looks is None:
            yield Suggestion(frame, why=NO_BODY)
            continue
        size = picture.shape[1], picture.shape[0]
        yield _suggestion(frame, looks, view, hand, learnt, size, marks)


def _looks(picture: NDArray[np.uint8], square: Square) -> Looks | None:
    """The looks that each see a body; a square found too small for one is tried wider."""
    for times in (1.0, WIDER):
        looks = looks_at(picture, Square(square.centre, times * square.side))
        if looks.presence.min() >= THERE:
            return looks
    return None


def _suggestion(
    frame: int,
    looks: Looks,
    view: View,
    hand: Hand,
    learnt: Learnt,
    size: tuple[int, int],
    marks: Collection[str],
) -> Suggestion:
    told = sided(looks.points, looks.side, view, hand)
    found = placed(told.points, hand, looks.side, learnt, frame)
    missing = doubts(found, learnt, looks.side, size)
    for mark in PAIRED_SUGGESTED:
        if mark not in found or not told.clear:
            missing[mark] = NO_SIDES
    rows = tuple(seen for mark, seen in found.items() if mark in marks and mark not in missing)
    missing = {mark: why for mark, why in missing.items() if mark in marks}
    return Suggestion(frame, rows, missing, side=looks.side, body=posture(told.points))


def placed(points: Floats, hand: Hand, side: float, learnt: Learnt, frame: int) -> dict[str, Observation]:
    """Each mark where the looks put it in the middle. points: (looks, 33, 3), the lead side first."""
    by = {part: mark.by for part, mark in learnt.marks.items()}
    return {mark: _seen(mark, seen, side, learnt, frame) for mark, seen in places(points, hand, by).items()}


def _seen(mark: str, seen: Floats, side: float, learnt: Learnt, frame: int) -> Observation:
    middle = np.median(seen, axis=0)
    spread = float(np.sqrt(np.mean((seen - middle) ** 2)))
    u = learnt.of(mark).u(spread, side)
    return Observation(mark, frame, float(middle[0]), float(middle[1]), u, suggested=True)
