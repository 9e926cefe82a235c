"""One shaft a picture, chosen so that the club goes smoothly from one click to the next.

What is found in a picture is many things that could be a shaft. Many ways of choosing among them are gone on
with from picture to picture, each expecting the club to go on as it last went; the likeliest that arrives at
the next click is kept (tracking by several hypotheses, D. B. Reid 1979, kept to the best few). What has to be
smooth is the direction of the shaft and the place of the hands, since a clubhead is far from going straight.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.shafts import Shaft

Floats = NDArray[np.float64]

HYPOTHESES = 40
MISSING = 3  # pictures in a row in which no shaft need be found
AT_FIRST = 1  # of them after a click, where no pace is known yet
SEEN = 6.0  # reward for a shaft seen over its whole length, in units of log likelihood
WHOLE = 0.9  # of its length that is surely seen where it is seen as well as can be
GATE = 3.0  # deviations, beyond which nothing is expected
BROAD = 5.0  # px, half the width at most of a club at rest
OPEN = 0.5  # of what the head moves from picture to picture: half a fan while the shutter is always open
# deviations of what comes from what is expected: so much, and so much of the pace of one picture
TURN, TURNING = math.radians(1.5), 0.12  # radians
BESIDE, GOING = 3.0, 0.15  # px across the shaft, of the hands
LENGTHENS, GOING_ALONG = 6.0, 0.2  # px along it
FIRST_TURN, FIRST_STEP = math.radians(15), 15.0  # where no pace is known yet


@dataclass(frozen=True)
class Held:
    """The club in one picture. hands: the head less the club's length along it. turn: direction from the
    hands to the head, radians from x to y. shaft: what was seen of it, if anything; length: px.
    """

    frame: int
    hands: Floats
    turn: float
    length: float
    shaft: Shaft | None


@dataclass(frozen=True)
class _Way:
    """A way of choosing: the last picture with a shaft, the one before, all of them, and how unlikely."""

    last: Held
    before: Held | None
    chosen: tuple[Held, ...]
    cost: float


def held(frame: int, shaft: Shaft, beyond: float, length: float) -> Held:
    """A shaft of a picture as the club. beyond: px from the head to the shaft's end; length: of the club."""
    turn = math.atan2(float(shaft.way[1]), float(shaft.way[0]))
    return Held(frame, shaft.end - (beyond + length) * shaft.way, turn, length, shaft)


def followed(
    start: Held, end: Held, frames: Sequence[int], found: Mapping[int, Sequence[Held]]
) -> tuple[tuple[Held, ...], bool]:
    """The likeliest way over `frames` from one picture towards another, earlier or later, and whether it
    arrives; else it is the likeliest that goes as far as any can be gone on with.
    """
    ways = [_Way(start, None, (), 0.0)]
    best = ways[0]
    for frame in frames:
        ways = _best([*ways, *_onward(ways, found.get(frame, ()))], frame)
        if not ways:
            return best.chosen, False
        best = min(best, ways[0], key=lambda way: way.cost)
    arrived = _onward(_best(ways, end.frame), [end], certain=True)
    if not arrived:
        return best.chosen, False
    return min(arrived, key=lambda way: way.cost).chosen[:-1], True


def _best(ways: Sequence[_Way], frame: int) -> list[_Way]:
    """Those that still may arrive, the likeliest of each that end alike."""
    kept: dict[tuple[int, int], _Way] = {}
    for way in sorted(ways, key=lambda way: way.cost):
        if abs(frame - way.last.frame) <= (AT_FIRST if way.before is None else MISSING) + 1:
            kept.setdefault((id(way.last), id(way.before)), way)
        if len(kept) == HYPOTHESES:
            break
    return list(kept.values())


def _onward(ways: Sequence[_Way], found: Sequence[Held], *, certain: bool = False) -> list[_Way]:
    """Every way gone on with by each shaft that is expected there. certain: it is a click."""
    if not found:
        return []
    hands = np.array([one.hands for one in found])
    turns = np.array([one.turn for one in found])
    along = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    gain = np.zeros(len(found)) if certain else np.array([_seen(one) for one in found])
    open_end = np.array([one.shaft is not None and one.shaft.cut for one in found])
    made: list[_Way] = []
    for way in ways:
        expected = expect(way.last, way.before, found[0].frame)
        off = hands - expected.hands
        turned = np.mod(turns - expected.turn + np.pi, 2 * np.pi) - np.pi
        further = np.where(open_end, 0.0, (off * along).sum(axis=1))
        ratios = np.stack(
            [
                turned / expected.turn_u,
                (off * across).sum(axis=1) / expected.across_u,
                further / expected.along_u,
            ]
        )
        for i in np.flatnonzero((np.abs(ratios) < GATE).all(axis=0)).tolist():
            if _broad(found[i], way.last):
                continue
            cost = way.cost + float((ratios[:, i] ** 2).sum()) / 2 - float(gain[i])
            one = found[i]
            if open_end[i]:
                one = replace(one, hands=one.hands - float(off[i] @ along[i]) * along[i])
            made.append(_Way(one, way.last, (*way.chosen, one), cost))
    return made


def _broad(one: Held, last: Held) -> bool:
    """Whether the stripe is broader than the club and its turn from the last picture can make it."""
    if one.shaft is None:
        return False
    turned = abs(math.remainder(one.turn - last.turn, 2 * math.pi)) / abs(one.frame - last.frame)
    return one.shaft.half > BROAD + OPEN * turned * one.length


@dataclass(frozen=True)
class Expected:
    """Where the club should be, with standard deviations."""

    hands: Floats
    turn: float
    turn_u: float
    across_u: float
    along_u: float


def expect(last: Held, before: Held | None, frame: int) -> Expected:
    """The club gone on as it last went: what its pace changes by grows with the square of time."""
    step = abs(frame - last.frame)
    if before is None:
        reach = FIRST_STEP * step
        return Expected(last.hands, last.turn, FIRST_TURN * step, reach, reach)
    span = last.frame - before.frame
    pace = (last.hands - before.hands) / span
    turning = (math.remainder(last.turn - before.turn, 2 * math.pi)) / span
    ahead = frame - last.frame
    grows = step * (step + abs(span)) / 2
    going = float(np.linalg.norm(pace))
    return Expected(
        last.hands + ahead * pace,
        last.turn + ahead * turning,
        (TURN + TURNING * abs(turning)) * grows,
        (BESIDE + GOING * going) * grows,
        (LENGTHENS + GOING_ALONG * going) * grows,
    )


def _seen(one: Held) -> float:
    score = one.shaft.score if one.shaft else 0.0
    return SEEN * min(1.0, score / (WHOLE * max(one.length, 1.0)))
