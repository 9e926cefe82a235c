"""The club as a stick of fixed length in space that is seen from one side, and how it goes on.

Its place is that of the hands and the way from them to the head, both in the picture, and the pace of both:
what a Kalman filter carries from picture to picture (R. E. Kalman 1960). A stick that turns about a fixed
axis at an even rate has the head's picture on an ellipse around the hands', whichever way it is seen from: it
is drawn back toward the hands by the square of that rate. So a club that comes to point at the camera, passes
and goes on grows short and long again as expected. What hands and turn do beside is noise, the more so the
faster they go: an acceleration that is constant for a step at the least, or from picture to picture where
there are more, and then of as much more variance, so that what the pace changes by in a time does not hang on
their number (Y. Bar-Shalom, X. R. Li and T. Kirubarajan 2001, sections 6.2 and 6.3).

Px of what is looked through; a step is a time (`clock.py`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

HANDS, WAY, PACE, TURNING = slice(0, 2), slice(2, 4), slice(4, 6), slice(6, 8)
ASKEW = 5.0  # px, of both ends, that need not lie on the shaft: a head's middle is beside it
AT_CLICK = 1.5  # px, of hands and of the head where both were clicked
FIRST_PACE, FIRST_TURN = 15.0, math.radians(15)  # a step, of the hands and of the stick, before any is seen
# deviations of what pace changes by in a step: so much, and so much of the pace
STEADY = 5.0, 0.25  # px, of the hands
TURNS = math.radians(2), 0.18  # radians, of the stick
BOUND, ODDEST = 12.0, 9.0  # px, deviation of a bound of its length, and the most that one is held against it,
# as a square of deviations
FLAT = 0.3  # of its length, by which a stick points from the picture at the least, to say how fast it does
FASTEST = 0.8  # radians a step


@dataclass(frozen=True)
class Stick:
    """mean: hands, the way from them to the head, and the paces of both, px and px a step. cov: of that.
    reach: how long the stick can look, px.
    """

    mean: Floats
    cov: Floats
    reach: float

    @property
    def hands(self) -> Floats:
        return self.mean[HANDS]

    @property
    def way(self) -> Floats:
        return self.mean[WAY]

    @property
    def turning(self) -> float:
        """px a step by which the head turns about the hands."""
        return float(np.linalg.norm(self.mean[TURNING]))


@dataclass(frozen=True)
class Sights:
    """What is seen of sticks: their heads (n, 2), the directions to them (n, 2), unit vectors, and standard
    deviations: of the head across and along, px, and of the direction, radians. beside: px by which the head
    lies beside the shaft.
    """

    heads: Floats
    ways: Floats
    across: Floats
    along: Floats
    turn: Floats
    beside: Floats


def clicked(hands: Floats, head: Floats, reach: float) -> Stick:
    """A stick of which both ends are known and no pace."""
    mean = np.concatenate([hands, head - hands, np.zeros(4)])
    spreads = [AT_CLICK, AT_CLICK, FIRST_PACE, FIRST_TURN * reach]
    return Stick(mean, np.diag(np.repeat(np.square(spreads), 2)), reach)


def begun_at(head: Floats, way: Floats, length: float, reach: float) -> Stick:
    """A stick of which its head and direction are known, and roughly its length, and no pace."""
    length = min(length, reach)
    mean = np.concatenate([head - length * way, length * way, np.zeros(4)])
    spreads = [reach / 4, reach / 4, FIRST_PACE, FIRST_TURN * reach]
    return Stick(mean, np.diag(np.repeat(np.square(spreads), 2)), reach)


def gone_on(stick: Stick, steps: float) -> Stick:
    """The stick so many steps on."""
    way, turning = stick.mean[WAY], stick.mean[TURNING]
    rate = _rate(way, turning, stick.reach)
    c, s = math.cos(rate * steps), math.sin(rate * steps)
    carry = np.eye(8)
    carry[HANDS, PACE] = steps * np.eye(2)
    carry[WAY, WAY] = carry[TURNING, TURNING] = c * np.eye(2)
    carry[WAY, TURNING] = (s / rate if rate > 1e-6 else steps) * np.eye(2)
    carry[TURNING, WAY] = -rate * s * np.eye(2)
    pace = float(np.linalg.norm(stick.mean[PACE]))
    noise = np.zeros((8, 8))
    for place, its_pace, change in (
        (HANDS, PACE, STEADY[0] + STEADY[1] * pace),
        (WAY, TURNING, (TURNS[0] + TURNS[1] * rate) * stick.reach),
    ):
        gain = np.array([steps**2 / 2, steps]) * change / math.sqrt(min(steps, 1.0))
        noise[place, place] = gain[0] ** 2 * np.eye(2)
        noise[its_pace, its_pace] = gain[1] ** 2 * np.eye(2)
        noise[place, its_pace] = noise[its_pace, place] = gain[0] * gain[1] * np.eye(2)
    return Stick(carry @ stick.mean, carry @ stick.cov @ carry.T + noise, stick.reach)


def _rate(way: Floats, turning: Floats, reach: float) -> float:
    """Radians a step at which the stick turns in space, from what is seen of it."""
    deep = math.sqrt(max(reach**2 - float(way @ way), (FLAT * reach) ** 2))
    going = float(way @ turning) / deep
    return min(math.hypot(float(np.linalg.norm(turning)), going) / reach, FASTEST)


def misses(stick: Stick, seen: Sights) -> tuple[Floats, Floats, Floats]:
    """By how much each of what is seen is off what is expected, (n, 3): the head across and along, and the
    way's end across the seen direction, px; and that in deviations, squared: each part (n, 3), and all (n,).
    """
    rows, noise = _measured(stick, seen)
    off = _targets(seen) - rows @ stick.mean
    spread = rows @ stick.cov @ rows.transpose(0, 2, 1) + noise
    all_of_it = np.einsum("ni,nij,nj->n", off, np.linalg.inv(spread), off)
    parts = off**2 / np.diagonal(spread, axis1=1, axis2=2)
    return off, parts, all_of_it


def seen_as(stick: Stick, seen: Sights, number: int) -> Stick:
    """The stick after one of what is seen was taken for it."""
    rows, noise = (part[number] for part in _measured(stick, seen))
    off = _targets(seen)[number] - rows @ stick.mean
    gain = stick.cov @ rows.T @ np.linalg.inv(rows @ stick.cov @ rows.T + noise)
    kept = np.eye(8) - gain @ rows
    return Stick(stick.mean + gain @ off, kept @ stick.cov @ kept.T + gain @ noise @ gain.T, stick.reach)


def bounded(stick: Stick, way: Floats, least: float, most: float) -> tuple[Stick, float]:
    """The stick with its length along a way brought between both, px, and the square of the deviations by
    which it was not. What its filter has of the length is made to fit the nearer bound (as a measurement of
    it, D. Simon 2010, on filters with inequalities).
    """
    length = float(stick.way @ way)
    nearest = min(max(length, least), most)
    if nearest == length:
        return stick, 0.0
    row = np.zeros(8)
    row[WAY] = way
    spread = float(row @ stick.cov @ row) + BOUND**2
    gain = stick.cov @ row / spread
    off = nearest - length
    cov = stick.cov - np.outer(gain, row @ stick.cov)
    return Stick(stick.mean + gain * off, (cov + cov.T) / 2, stick.reach), min(off**2 / spread, ODDEST)


def _measured(stick: Stick, seen: Sights) -> tuple[Floats, Floats]:
    """(n, 3, 8): what is measured of the state: the head across and along the seen way, and across it the way
    from the hands to the head; and (n, 3, 3), its noise.
    """
    count = len(seen.heads)
    normals = np.stack([-seen.ways[:, 1], seen.ways[:, 0]], axis=1)
    rows = np.zeros((count, 3, 8))
    rows[:, 0, HANDS] = rows[:, 0, WAY] = rows[:, 2, WAY] = normals
    rows[:, 1, HANDS] = rows[:, 1, WAY] = seen.ways
    noise = np.zeros((count, 3, 3))
    noise[:, 0, 0], noise[:, 1, 1] = seen.across**2, seen.along**2
    noise[:, 2, 2] = (seen.turn * float(np.linalg.norm(stick.way))) ** 2 + ASKEW**2
    return rows, noise


def _targets(seen: Sights) -> Floats:
    normals = np.stack([-seen.ways[:, 1], seen.ways[:, 0]], axis=1)
    across, along = ((seen.heads * part).sum(axis=1) for part in (normals, seen.ways))
    return np.stack([across, along, seen.beside], axis=1)


def joined(one: Stick, other: Stick) -> Stick:
    """What is known of a stick from before and, gone back, from after: both in one, the pace as before."""
    a, b = np.linalg.inv(one.cov), np.linalg.inv(other.cov)
    cov = np.linalg.inv(a + b)
    return Stick(cov @ (a @ one.mean + b @ other.mean), cov, one.reach)


def turned_back(stick: Stick) -> Stick:
    """The same seen with time running the other way."""
    signs = np.repeat([1.0, 1.0, -1.0, -1.0], 2)
    return Stick(stick.mean * signs, stick.cov * np.outer(signs, signs), stick.reach)
