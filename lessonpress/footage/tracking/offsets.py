"""By how much what is suggested of a mark is off in every picture, from pictures in which its place is known.

A network errs alike on postures that are alike: at a click it shows by how much, and a picture that shows
the body nearly so has nearly that error, another click's more the more it resembles it. That is a Gaussian
process over posture and time; its mean is the error to take away, its deviation what is left in doubt:
C. E. Rasmussen and C. K. I. Williams 2006, Gaussian Processes for Machine Learning, equations 2.25 and 2.26,
with the Matérn covariance of order 3/2, equation 4.17.

How long an error lasts and how alike postures have to be (LASTS, ALIKE_TRUNK, ALIKE_LIMBS) is the same for
all marks, chosen on films of one golfer, each left out in turn; how large errors are is learnt for each mark
(`pose/learnt.json`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.bodymarks import TRUNK

Floats = NDArray[np.float64]

LASTS = 1.0  # real seconds after which an error has changed by much
# likewise, as rms distances of the points of two bodies, of the square's side
ALIKE_TRUNK, ALIKE_LIMBS = 0.1, 0.3
STEADY = 0.05  # real seconds: deviation of the Gauss filter over postures, which takes the looks' noise away
STAYS = 0.05  # of the side: standard deviation of the error that all pictures of a film have in common
NOISE = 0.0012  # of the side: of a path once it is smooth
HELD = 0.1  # real seconds over which what carried a point errs alike


@dataclass(frozen=True)
class Known:
    """Pictures in which the mark's place is known. at: their rows among all pictures. off: (n, 2), px, right
    and down from what is suggested to that place. covariance: (n, n), px², of the place's error.
    """

    at: NDArray[np.int64]
    off: Floats
    covariance: Floats


def unlike(seconds: Floats, bodies: Floats, side: float) -> Floats:
    """(n, n): how far apart pictures are in time and posture, 1 where an error has changed by much.

    seconds: (n,), real ones. bodies: (n, points, 2), px, the trunk's first. side: of the square around the
    body, px.
    """
    apart = seconds[:, None] - seconds[None, :]
    weight = np.exp(-0.5 * (apart / STEADY) ** 2)
    weight /= weight.sum(axis=1, keepdims=True)
    trunk, limbs = (
        _distances(weight @ part.reshape(len(part), -1)) / max(part.shape[1], 1)
        for part in (bodies[:, : len(TRUNK)], bodies[:, len(TRUNK) :])
    )
    moved = trunk / (ALIKE_TRUNK * side) ** 2 + limbs / (ALIKE_LIMBS * side) ** 2
    return np.asarray(np.sqrt((apart / LASTS) ** 2 + moved))


def _distances(rows: Floats) -> Floats:
    """(n, n): the squared distance of each row from each other."""
    rows = rows - rows.mean(axis=0)
    length = np.sum(rows**2, axis=1)
    return np.asarray(np.maximum(length[:, None] + length[None, :] - 2 * rows @ rows.T, 0.0))


def alike(far: Floats) -> Floats:
    """The Matérn correlation of order 3/2 of what is so far apart."""
    root = np.sqrt(3) * far
    return np.asarray((1 + root) * np.exp(-root))


def foretold(far: Floats, known: Known, size: float, side: float) -> tuple[Floats, Floats]:
    """(offsets (n, 2), u (n,)) in px, u per axis: what to add to what is suggested in each picture.

    far: (n, n), of `unlike`. size: standard deviation by which an error changes, of the square's side.
    """
    prior = side**2 * (size**2 * alike(far) + STAYS**2)
    noise = (NOISE * side) ** 2
    seen = prior[np.ix_(known.at, known.at)] + known.covariance + noise * np.eye(len(known.at))
    gain = np.linalg.solve(seen, prior[known.at]).T
    variance = np.diag(prior) - np.sum(gain * prior[:, known.at], axis=1) + noise
    return gain @ known.off, np.sqrt(variance)


def covariance(seconds: Floats, clicked: Sequence[float], carried: Sequence[float]) -> Floats:
    """(n, n), px²: of clicks, each with an error of its own, and after them of places that pixels carried,
    of which near ones err alike. clicked, carried: u of each, px per axis. seconds: (n,), real ones.
    """
    count = len(clicked)
    found = np.zeros((len(seconds), len(seconds)))
    found[:count, :count] = np.diag(np.square(clicked))
    apart = np.abs(seconds[count:, None] - seconds[None, count:])
    found[count:, count:] = np.outer(carried, carried) * np.exp(-apart / HELD)
    return found
