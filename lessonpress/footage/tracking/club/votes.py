"""Lines along which thin stripes lie: every point of a stripe votes for the line that it lies on.

What is thin is seen by the second derivatives of the picture (the Hessian matrix): across a stripe the
picture bends much, along it little (C. Steger 1998, "An unbiased detector of curvilinear structures"). The
direction across gives a point's line, for which it votes with its neighbours in direction (P. V. C. Hough
1962, in the form of R. O. Duda and P. E. Hart 1972; votes by direction after F. O'Gorman and M. B. Clowes
1976).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Backdrop, Mask, Picture

Floats = NDArray[np.float64]

SCALES = (1, 2, 4)  # times that the picture is made smaller, so that broader stripes are thin in it
SOFT = 1.3  # px, deviation of the Gauss filter before the derivatives
BENDS = 4.0  # times its noise, by which a picture bends across a stripe
ROUNDING = 0.5  # grey levels more
STRAIGHT = 0.5  # of the bend across, that there may be along it
MOST_VOTE = 12.0  # of one point
AROUND = 4  # degrees to either side for which a point votes
DEGREES = 180
APART = 2.0  # px between lines
LINES = 14  # kept of each scale


@dataclass(frozen=True)
class Line:
    """x cos(angle) + y sin(angle) = distance, x and y from the picture's middle, px. votes: of the most that
    a line has in that picture and scale.
    """

    angle: float
    distance: float
    votes: float


def voted_lines(picture: Picture, moved: Picture, body: Mask, golfer: Mask, backdrop: Backdrop) -> list[Line]:
    """Of all scales, those with most votes first, once of all points and once of those beside the golfer,
    whose limbs have more to say than a short shaft. moved: the picture less the room.
    """
    lines = [
        line
        for scale in SCALES
        for line in _of_scale(picture, moved, body, golfer, backdrop.noise / scale, scale)
    ]
    return sorted(lines, key=lambda line: -line.votes)


def _of_scale(
    picture: Picture, moved: Picture, body: Mask, golfer: Mask, noise: float, scale: int
) -> list[Line]:
    height, width = picture.shape
    if scale > 1:
        size = (width // scale, height // scale)
        picture = np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_AREA))
        moved = np.asarray(cv2.resize(moved, size, interpolation=cv2.INTER_AREA))
        body, golfer = (
            np.asarray(cv2.resize(mask, size, interpolation=cv2.INTER_NEAREST), dtype=np.uint8)
            for mask in (body, golfer)
        )
    rows, columns, across, weight = _thin(picture, moved, body, noise)
    x = (columns + 0.5) * scale - width / 2
    y = (rows + 0.5) * scale - height / 2
    beside = golfer[rows.astype(int), columns.astype(int)] == 0
    reach = math.hypot(width, height) / 2
    return [
        line
        for chosen in (np.ones_like(beside), beside)
        for line in _tops(*_counted(x[chosen], y[chosen], across[chosen], weight[chosen], reach))
    ]


def _thin(
    picture: Picture, moved: Picture, body: Mask, noise: float
) -> tuple[Floats, Floats, Floats, Floats]:
    """Rows and columns of points of stripes, the direction across in radians, and how strong they are.

    Before the room a stripe must be one of what moved; before the body it must be one of the picture as well,
    since the room's own stripes, covered by a body, are stripes of what moved.
    """
    xx, yy, xy = _second(moved)
    mean, apart = (xx + yy) / 2, np.hypot((xx - yy) / 2, xy)
    most = np.abs(mean) + apart
    least = np.abs(np.abs(mean) - apart)
    rows, columns = np.nonzero((most > BENDS * (_gain() * noise + ROUNDING)) & (least < STRAIGHT * most))
    at = rows, columns
    across = 0.5 * np.arctan2(2 * xy[at], xx[at] - yy[at])
    across = np.where(mean[at] >= 0, across, across + np.pi / 2)
    own = [part[at] for part in _second(picture)]
    c, s = np.cos(across), np.sin(across)
    bends = c * c * own[0] + s * s * own[1] + 2 * c * s * own[2]
    both = np.where(bends * np.sign(mean[at]) > 0, np.minimum(most[at], np.abs(bends)), 0.0)
    strong = np.where(body[at] > 0, both, most[at]) / (_gain() * noise + ROUNDING)
    kept = strong > BENDS
    weight = np.minimum(strong[kept], MOST_VOTE)
    return (
        rows[kept].astype(np.float64),
        columns[kept].astype(np.float64),
        across[kept].astype(np.float64),
        weight.astype(np.float64),
    )


def _second(picture: Picture) -> tuple[Picture, Picture, Picture]:
    """Second derivatives across, down, and mixed, of the softened picture."""
    soft = cv2.GaussianBlur(picture, (0, 0), SOFT)
    across, down, mixed = (cv2.Sobel(soft, cv2.CV_32F, *order, ksize=3) for order in ((2, 0), (0, 2), (1, 1)))
    return np.asarray(across), np.asarray(down), np.asarray(mixed)


@cache
def _gain() -> float:
    """Standard deviation of a second derivative where the picture is noise of deviation 1."""
    chance = np.random.default_rng(0).normal(0, 1, (200, 200)).astype(np.float32)
    return float(_second(chance)[0].std())


def _counted(x: Floats, y: Floats, across: Floats, weight: Floats, reach: float) -> tuple[Floats, float]:
    """Votes by angle in degrees and by distance in steps of APART from −reach on, and that reach."""
    steps = int(2 * reach / APART) + 3
    votes = np.zeros(DEGREES * steps)
    nearest = np.round(np.degrees(across)).astype(int)
    for away in range(-AROUND, AROUND + 1):
        degrees = np.mod(nearest + away, 2 * DEGREES)
        radians = np.radians(degrees)
        distance = x * np.cos(radians) + y * np.sin(radians)
        turned = degrees >= DEGREES
        degrees = np.where(turned, degrees - DEGREES, degrees)
        distance = np.where(turned, -distance, distance)
        cell = degrees * steps + np.round((distance + reach) / APART).astype(int)
        votes += np.bincount(cell, weights=weight * (1 - abs(away) / (AROUND + 1)), minlength=len(votes))
    return votes.reshape(DEGREES, steps), reach


def _tops(votes: Floats, reach: float) -> list[Line]:
    """The lines that have more votes than those around them."""
    rim = 6
    wide = np.concatenate([votes[-rim:, ::-1], votes, votes[:rim, ::-1]]).astype(np.float32)
    soft = np.asarray(cv2.GaussianBlur(wide, (5, 5), 0.9))
    top = (soft == cv2.dilate(soft, np.ones((9, 7), np.uint8))) & (soft > 0)
    top[:rim] = top[-rim:] = False
    rows, columns = np.nonzero(top)
    best = np.argsort(-soft[rows, columns])[:LINES]
    most = float(soft[rows[best[0]], columns[best[0]]]) if len(best) else 1.0
    return [
        Line(
            math.radians(int(rows[i]) - rim),
            float(columns[i]) * APART - reach,
            float(soft[rows[i], columns[i]]) / most,
        )
        for i in best
    ]
