"""How much one swing of a golfer differs from the next, where no one saw it and where several clips show it.

What is assumed is common practice, no published source: a golfer who swings twice with one club within a day
comes back to within an inch with feet, trunk and head, to within an inch and a half with the arms at the top,
and with the club to within some four degrees there; standing and at the ball hands and club are surer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from lessonpress.measure.body.posture import bare

# u in m, level, of one swing against a golfer's usual one
BODY = 0.02
TURNING = {"shoulder": 0.025, "elbow": 0.035, "wrist": 0.035, "implement-grip": 0.035, "implement-head": 0.08}
AT_THE_BALL = {
    "shoulder": 0.02,
    "elbow": 0.02,
    "wrist": 0.02,
    "implement-grip": 0.02,
    "implement-head": 0.025,
}
SURE = ("setup", "impact")
TOLD = (*SURE, "top", "finish")
UP = 0.6  # of it in height: a golfer stands up from one floor
LOOSER = 2.5  # of an instant by a name of the author's own: people stop at other pictures of it

KNOWN_AS = 6.0  # how many differences what is assumed above is worth, beside those that are seen
TOGETHER = 1 / 3  # marks of one instant move together: so much of each counts (own choice)
BELIEVED = 1.0  # times what is assumed: swings whose heights differ by more are not taken for one golfer's
NARROWEST = 0.5  # of what is assumed, and only where several swings show it


def swing_u(mark: str, event: str, way: str = "across") -> float:
    """Standard uncertainty of a mark in one swing against the golfer's usual one, m, across or up."""
    at_the_ball = event in SURE
    u = (AT_THE_BALL if at_the_ball else TURNING).get(mark, 0.0)
    u = u or (AT_THE_BALL if at_the_ball else TURNING).get(bare(mark), BODY)
    u *= UP if way == "up" else 1.0
    return u if event in TOLD else LOOSER * u


@dataclass(frozen=True)
class Difference:
    """One difference between two swings as seen, m² each: its square, and what noise and swings bring to it.

    free: how many of it are free.
    """

    square: float
    noise: float
    swings: float
    free: float = 1.0


def wider(seen: Iterable[Difference], *, narrower: bool) -> float:
    """By what factor swings differ more than is assumed; under 1 only where `narrower` is allowed.

    What is assumed and what is seen are pooled by how many differences each is worth. A difference that is
    mostly noise says little, and weighs as the square of the part that swings have in it.
    Source: pooled variances and the method of moments, any text on statistics.
    """
    total, weight = KNOWN_AS, KNOWN_AS
    for one in seen:
        part = TOGETHER * one.free * (one.swings / (one.swings + one.noise)) ** 2
        total += part * (one.square / one.free - one.noise) / one.swings
        weight += part
    found = math.sqrt(max(total / weight, NARROWEST**2))
    return found if narrower else max(found, 1.0)
