"""One shaft a picture, chosen so that the club goes smoothly from one click to the next.

What is found in a picture is many things that could be a shaft. Many ways of choosing among them are gone on
with from picture to picture, each expecting the club to go on as a stick does (`stick.py`); the likeliest
that arrives at the next click is kept (tracking by several hypotheses, D. B. Reid 1979, kept to the best
few).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.clock import Clock
from lessonpress.footage.tracking.club.shafts import Shaft
from lessonpress.footage.tracking.club.stick import Sights, Stick, bounded, clicked, gone_on, misses, seen_as

Floats = NDArray[np.float64]

HYPOTHESES = 40
MISSING = 3  # steps of pictures one after another in which no shaft need be found
AT_FIRST = 1  # of them after a click, where no pace is known yet
SHORT, MISSING_SHORT = 0.3, 8  # of its reach: a club that points at the camera, and steps it may be unseen
SEEN = 6.0  # reward for a shaft seen over its whole length, in units of log likelihood
UNLIKE = 0.5  # of it, where a head would be seen at its end and is not
WHOLE = 0.9  # of its length that is surely seen where it is seen as well as can be
SURE = 0.6  # of that reward, for the pictures of a way in the middle
LEAST = 30.0  # px of that length at the least
GATE = 3.0  # deviations, beyond which nothing is expected
ARRIVES = 4.0  # of them, all four parts of a click together
BROAD = 5.0  # px, half the width at most of a club at rest
HEADLESS = 120.0  # px, of which most is shaft and not head
OPEN = 0.5  # of what the head moves from picture to picture: half a fan while the shutter is always open
FORESHORTENED = 0.15  # of its reach: as short a club has no direction by which to know it
END, UNSEEN_END = 3.0, 3000.0  # px, deviation of where a stripe ends, and of where the picture's edge cuts it
LINE, FANNED = 0.7, 0.25  # px, and of half a stripe's width: deviation of its line
UNSEEN = 30.0  # px of a shaft near the hands that may not be seen
LEAST_TURN = 0.01  # radians, of its direction
NO_WAY, UNKNOWN = np.array([1.0, 0.0]), 1e3  # any direction, and radians: of a head alone it is not known
SOON = 0.5  # steps: pictures so much off the step count as on it
LONE = 4.0  # reward for the head alone, as SEEN
END_ON, MOST_LONE = 0.6, 16  # of its reach: a longer club shows its shaft; and steps of heads alone


@dataclass(frozen=True)
class Seen:
    """What may be the club in a picture: a shaft, or with None the head alone. head: where that is, px.
    along, across: u of it, px, by how the head is found. spotted: by its spot, and not by where the stripe
    ends. like: whether what is there looks as the head does where it was clicked; None where that is not
    known.
    """

    frame: int
    head: Floats
    shaft: Shaft | None
    along: float
    across: float
    spotted: bool = False
    like: bool | None = None

    @property
    def cut(self) -> bool:
        """Whether the picture ends there, and with it what is seen, and no head is."""
        return self.shaft is not None and self.shaft.cut and not (self.spotted and self.like)

    @property
    def open(self) -> float:
        """Share of what is around the head that is the room; what looks like it may be before the golfer."""
        return 1.0 if self.shaft is None or (self.spotted and self.like) else self.shaft.open

    @property
    def confirmed(self) -> bool:
        """Whether the head itself is seen there."""
        return self.spotted if self.like is None else self.like

    @property
    def beside(self) -> float:
        """px by which the head lies beside the line of the shaft."""
        if self.shaft is None:
            return 0.0
        way = self.shaft.way
        return float((self.head - self.shaft.end) @ np.array([-way[1], way[0]]))


@dataclass(frozen=True)
class Click:
    """A picture on which both ends of the club were clicked, px."""

    frame: int
    hands: Floats
    head: Floats

    def stick(self, reach: float) -> Stick:
        return clicked(self.hands, self.head, reach)


@dataclass(frozen=True)
class _Way:
    """A way of choosing: the club as of its last picture, the pictures chosen, how unlikely it is, and the
    rewards in that.
    """

    frame: int
    stick: Stick
    chosen: tuple[Seen, ...]
    cost: float
    gain: float = 0.0


def sights_of(found: Sequence[Seen]) -> Sights:
    shafts = [one.shaft for one in found]
    return Sights(
        np.array([one.head for one in found]),
        np.array([NO_WAY if shaft is None else shaft.way for shaft in shafts]),
        np.array([_across(one) for one in found]),
        np.array([_along(one) for one in found]),
        np.array([UNKNOWN if shaft is None else np.hypot(LEAST_TURN, shaft.turn) for shaft in shafts]),
        np.array([one.beside for one in found]),
    )


def _along(one: Seen) -> float:
    if one.shaft is None:
        return one.along
    return UNSEEN_END if one.cut else END


def _across(one: Seen) -> float:
    """Deviation of the head across the shaft: of the line, or of the spot, which may lie beside it."""
    if one.shaft is None:
        return one.across
    line = math.hypot(LINE, one.shaft.across, FANNED * one.shaft.half)
    return math.hypot(line, one.across) if one.spotted else line


def followed(
    start: Click,
    end: Click,
    frames: Sequence[int],
    found: Mapping[int, Sequence[Seen]],
    reach: float,
    clock: Clock,
) -> tuple[tuple[Seen, ...], bool]:
    """The likeliest way over `frames` from one click towards another, earlier or later, and whether it
    arrives; else it is the likeliest that goes as far as any can be gone on with.
    """
    ways = [_Way(start.frame, start.stick(reach), (), 0.0)]
    best = ways[0]
    for frame in frames:
        ways = _best([*ways, *_onward(ways, found.get(frame, ()), clock)], frame, clock)
        if not ways:
            return best.chosen, False
        best = min(best, ways[0], key=lambda way: way.cost)
    sure = [way for way in ways if way.gain >= SURE * SEEN * len(way.chosen)]
    arrived = [(cost, way) for way in sure if (cost := _arrival(way, end, clock)) is not None]
    if not arrived:
        return best.chosen, False
    return min(arrived, key=lambda one: one[0])[1].chosen, True


def _best(ways: Sequence[_Way], frame: int, clock: Clock) -> list[_Way]:
    """Those that still may arrive, the likeliest of each that end alike."""
    kept: dict[tuple[int, ...], _Way] = {}
    for way in sorted(ways, key=lambda way: way.cost):
        if clock.apart(frame, way.frame) <= _may_miss(way):
            kept.setdefault(tuple(id(one) for one in way.chosen[-2:]), way)
        if len(kept) == HYPOTHESES:
            break
    return list(kept.values())


def _may_miss(way: _Way) -> int:
    if float(np.linalg.norm(way.stick.way)) < SHORT * way.stick.reach:
        return MISSING_SHORT
    return AT_FIRST if not way.chosen else MISSING


def _onward(ways: Sequence[_Way], found: Sequence[Seen], clock: Clock) -> list[_Way]:
    """Every way gone on with by each shaft that is expected there."""
    if not found:
        return []
    sights = sights_of(found)
    made: list[_Way] = []
    for way in ways:
        due = gone_on(way.stick, clock.apart(found[0].frame, way.frame))
        _, parts, off = misses(due, sights)
        for i in np.flatnonzero((parts < GATE**2).all(axis=1)).tolist():
            one = found[i]
            stick, odd = taken(due, one)
            if not _may_be(one, due, stick, way.chosen, clock):
                continue
            gain = _gain(one, stick)
            cost = way.cost + (float(off[i]) + odd) / 2 - gain
            made.append(_Way(one.frame, stick, (*way.chosen, one), cost, way.gain + gain))
    return made


def _may_be(one: Seen, due: Stick, stick: Stick, chosen: Sequence[Seen], clock: Clock) -> bool:
    """Whether it looks as the stick does after it was taken for it, which follows what was chosen before."""
    if one.shaft is None:
        short = float(np.linalg.norm(stick.way)) < END_ON * stick.reach
        return short and not _long_alone(chosen, one.frame, clock)
    if float(stick.way @ one.shaft.way) < FORESHORTENED * stick.reach:
        return False
    return one.like is True or not _broad(one.shaft, due, clock)


def _long_alone(chosen: Sequence[Seen], frame: int, clock: Clock) -> bool:
    """Whether with that picture heads alone would come last for longer than they may."""
    alone = list(takewhile(lambda one: one.shaft is None, reversed(chosen)))
    return bool(alone) and clock.apart(alone[-1].frame, frame) > MOST_LONE - SOON


def unlikely(due: Stick, found: Sequence[Seen]) -> Floats:
    """(n,), how unlikely each of what is seen in a picture is the club: log likelihoods with a minus."""
    sights = sights_of(found)
    _, _, off = misses(due, sights)
    return np.array(
        [
            (square + odd) / 2 - _gain(one, stick)
            for one, square, (stick, odd) in zip(
                found, off.tolist(), (taken(due, one) for one in found), strict=True
            )
        ]
    )


def taken(due: Stick, one: Seen) -> tuple[Stick, float]:
    """The stick after what is seen was taken for it, and the square of the deviations by which its length is
    not what that allows.
    """
    stick = seen_as(due, sights_of([one]), 0)
    return (stick, 0.0) if one.shaft is None else bounded(stick, one.shaft.way, *_lengths(one, one.shaft))


def _lengths(one: Seen, shaft: Shaft) -> tuple[float, float]:
    """px from the hands to the head, the least and the most, by what is seen: held by the golfer, who is
    nowhere on its bare part, and not farther away than the stripe goes.
    """
    beyond = float((shaft.end - one.head) @ shaft.way)
    return shaft.bare - beyond, math.inf if one.cut else shaft.length - beyond + UNSEEN


def _broad(shaft: Shaft, due: Stick, clock: Clock) -> bool:
    """Whether the stripe is broader than the club and its turn can make it."""
    shortest = BROAD if shaft.length > HEADLESS else 2 * BROAD
    return shaft.half > shortest + OPEN * due.turning * clock.picture


def _gain(one: Seen, stick: Stick) -> float:
    if one.shaft is None:
        return LONE
    length = max(float(np.linalg.norm(stick.way)), LEAST)
    seen = UNLIKE * SEEN if one.like is False else SEEN
    return seen * one.open**2 * min(1.0, one.shaft.score / (WHOLE * length))


def _arrival(way: _Way, end: Click, clock: Clock) -> float | None:
    """How unlikely it is with the click at its end; None where it does not come there."""
    due = gone_on(way.stick, clock.apart(end.frame, way.frame))
    off = np.concatenate([end.hands, end.head - end.hands]) - due.mean[:4]
    noise = due.cov[:4, :4] + 4 * np.eye(4)
    square = float(off @ np.linalg.solve(noise, off))
    return way.cost + square / 2 if square < ARRIVES**2 else None
