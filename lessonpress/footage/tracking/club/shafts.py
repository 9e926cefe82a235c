"""What may be the shaft in one picture: thin moving stripes, each laid as well as it can be."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Backdrop, Mask, Picture, large
from lessonpress.footage.tracking.club.spot import Spot, softened, spot_at
from lessonpress.footage.tracking.club.stripes import Stripe, stripes_along
from lessonpress.footage.tracking.club.votes import voted_lines
from lessonpress.footage.tracking.halfpixel import to_opencv

Floats = NDArray[np.float64]

LEAST_SCORE = 20.0  # px surely seen
LEAST_LENGTH = 30.0  # px
KEPT = 12  # stripes of a picture
TRIED = 24
REACH = 44  # px to either side
STEP, ROWS = 2.0, 5
AGAIN = 3  # times that a line is laid, each nearer
DIM = 0.7  # times the noise: a place of the stripe that differs by less does not draw the line to it
FAINT, CLEAR = 1.5, 6.0  # times its noise: rows that say little weigh nothing, clear ones no more than this
FLAT = 0.25  # px, least middling distance of rows from their line
FEW = 3.0  # rows that a line rests on at the least, neighbours that share px being one
SAME = 4.0, 6.0  # px, across and at an end: two are one
PAST, BACK = 16, 30  # px about an end in which it is looked for more closely
HALF_SEEN = 0.2  # of what the stripe differs by near its end: there it ends
AROUND = np.radians(np.arange(-120, 121, 15))  # directions about an end
ABOUT = np.array([8.0, 16.0, 24.0, 32.0, 40.0])  # px, distances from it
HEAD = 30.0  # px from an end that may be the head
CUT = 14.0  # px from the picture's edge: the end may not be in the picture


@dataclass(frozen=True)
class Shaft:
    """A stripe that may be the shaft, by its end that may be the head's, in px of what is looked through.

    way: along it towards that end, a unit vector. length: px that are seen; score: px surely seen. across: u
    of the end across the way, px; turn: u of the way, radians. half: half the stripe's width, px. open: share
    of what lies around and beyond the end that is the room and not the golfer. bare: px from the end to the
    golfer, who holds it somewhere. cut: the picture ends there. spot: what is broader than it at its end.
    """

    end: Floats
    way: Floats
    length: float
    score: float
    across: float
    turn: float
    half: float
    open: float
    bare: float
    cut: bool
    spot: Spot | None = None


@dataclass(frozen=True)
class _Laid:
    point: Floats
    way: Floats
    begins: float
    ends: float
    across: float
    turn: float
    half: float


def shafts_in(grey: NDArray[np.uint8], backdrop: Backdrop) -> list[Shaft]:
    """The most clearly seen first, each twice: either end may be the head's."""
    picture = backdrop.looked_at(grey)
    moved = picture - backdrop.room
    body = backdrop.body(picture)
    golfer: Mask = np.maximum(large(body), backdrop.golfer)
    lines = voted_lines(picture, moved, body, golfer, backdrop)
    found: list[Shaft] = []
    stripes = [
        stripe
        for stripe in stripes_along(lines, picture, moved, body, backdrop)
        if stripe.score >= LEAST_SCORE and stripe.ends - stripe.begins >= LEAST_LENGTH
    ]
    for stripe in stripes[:TRIED]:
        laid = _laid(stripe, moved, backdrop.noise)
        if laid is not None and not any(_same(laid, other) for other in found):
            found.extend(_both_ways(laid, stripe, body, golfer))
        if len(found) >= 2 * KEPT:
            break
    return found


def with_spots(found: Sequence[Shaft], grey: NDArray[np.uint8], backdrop: Backdrop) -> list[Shaft]:
    """The same, each with what is seen at its end."""
    picture = backdrop.looked_at(grey)
    moved, golfer = softened(picture - backdrop.room), large(backdrop.body(picture))
    return [
        replace(one, spot=spot_at(one.end, one.way, one.half, moved, golfer, backdrop.noise)) for one in found
    ]


def _both_ways(laid: _Laid, stripe: Stripe, body: Mask, golfer: Mask) -> list[Shaft]:
    length = laid.ends - laid.begins
    across = math.hypot(laid.across, laid.turn * length / 2)
    made = []
    for sign, at in ((1.0, laid.ends), (-1.0, laid.begins)):
        end = laid.point + at * laid.way
        cut = min(*end, *(np.array(body.shape[::-1]) - end)) < CUT
        way = sign * laid.way
        seen = _open(end, way, golfer), _bare(end, way, length, body)
        made.append(Shaft(end, way, length, stripe.score, across, laid.turn, laid.half, *seen, bool(cut)))
    return made


def _open(end: Floats, way: Floats, golfer: Mask) -> float:
    """Share of the places around an end that do not show the golfer; beyond the picture there are none."""
    turn = math.atan2(float(way[1]), float(way[0])) + AROUND[:, None]
    x, y = end[0] + np.cos(turn) * ABOUT, end[1] + np.sin(turn) * ABOUT
    return 1.0 - float(_shows(golfer, x.ravel(), y.ravel()).mean())


def _bare(end: Floats, way: Floats, length: float, body: Mask) -> float:
    """px from an end back along the stripe to the golfer, or its length; the clubhead is no golfer."""
    along = np.arange(HEAD, length, STEP)
    met = np.flatnonzero(_shows(body, end[0] - way[0] * along, end[1] - way[1] * along))
    return float(along[met[0]]) if len(met) else length


def _shows(body: Mask, x: Floats, y: Floats) -> NDArray[np.bool_]:
    columns, rows = np.floor(x).astype(int), np.floor(y).astype(int)
    height, width = body.shape
    inside = (columns >= 0) & (columns < width) & (rows >= 0) & (rows < height)
    return np.asarray(inside & (body[rows * inside, columns * inside] > 0))


def _same(laid: _Laid, other: Shaft) -> bool:
    normal = np.array([-other.way[1], other.way[0]])
    ends = [laid.point + at * laid.way - other.end for at in (laid.begins, laid.ends)]
    beside = max(abs(float(end @ normal)) for end in ends)
    return beside < SAME[0] and min(float(np.linalg.norm(end)) for end in ends) < SAME[1]


def _laid(stripe: Stripe, moved: Picture, noise: float) -> _Laid | None:
    """The line through the middles of the stripe's rows, by least squares in which outlying rows count less
    (P. J. Huber 1964), and how well that is known.
    """
    point, way, begins, ends = stripe.point, stripe.way, stripe.begins, stripe.ends
    across = turn = 0.0
    for number in range(AGAIN):
        along = np.arange(begins, ends + 1e-6, STEP)
        reach = math.ceil((1.2 if number else 1.5) * stripe.half + (1.5 if number else 3.0))
        off, weight = _middles(point, way, along, reach, stripe.half, moved, noise)
        if weight.sum() <= 0:
            return None
        centre = float(along.mean())
        away = along - centre
        (shift, slope), across, turn = _fitted(away, off, weight)
        normal = np.array([-way[1], way[0]])
        point = point + centre * way + shift * normal
        way = way + slope * normal
        way = way / np.linalg.norm(way)
        begins, ends = begins - centre, ends - centre
    half, begins, ends = _measured(point, way, begins, ends, stripe.half, moved)
    return _Laid(point, way, begins, ends, across, turn, half)


def _measured(
    point: Floats, way: Floats, begins: float, ends: float, half: float, moved: Picture
) -> tuple[float, float, float]:
    """Half the width of the stripe, px, and where it begins and ends, where it differs by half of what it
    does near by.
    """
    along = np.arange(begins - PAST, ends + PAST + 0.5)
    reach = math.ceil(1.5 * half + 3)
    differs = _against_flanks(_strip(point, way, along, moved), reach, half)
    inner = differs[PAST:-PAST]
    sides = np.sign(inner.sum(axis=1))
    profile = np.abs((inner * sides[:, None]).mean(axis=0))
    width = float(profile.sum() / max(float(profile.max()), 1e-6)) / 2
    core = round(min(width, reach))
    level = np.abs(differs[:, reach - core : reach + core + 1].mean(axis=1))
    level = np.convolve(level, np.ones(3) / 3, mode="same")
    return width, *_ends(along, level)


def _ends(along: Floats, level: Floats) -> tuple[float, float]:
    last = len(along) - 1
    return float(along[last - _edge(level[::-1])]), float(along[_edge(level)])


def _edge(level: Floats) -> int:
    """The last place at which the stripe is seen, of levels in steps of 1 px that go past its end."""
    near = level[-(PAST + BACK) :]
    seen = np.flatnonzero(near >= HALF_SEEN * near[: BACK + PAST // 2].max())
    return len(level) - len(near) + int(seen[-1]) if len(seen) else len(level) - 1 - PAST


def _middles(
    point: Floats, way: Floats, along: Floats, reach: int, half: float, moved: Picture, noise: float
) -> tuple[Floats, Floats]:
    """Of each row across the stripe, how far beside the line its middle lies, px, and how sure that is."""
    strip = np.asarray(cv2.blur(_strip(point, way, along, moved), (1, ROWS)), dtype=np.float32)
    differs = _against_flanks(strip, reach, half)
    inner = np.arange(-reach, reach + 1)
    total = differs.sum(axis=1)
    quiet = noise / math.sqrt(ROWS)
    bright = np.clip(differs * np.sign(total)[:, None] - DIM * quiet, 0, None)
    middle = (bright * inner).sum(axis=1) / np.maximum(bright.sum(axis=1), 1e-6)
    wide = math.sqrt(len(inner))
    sure = np.abs(total) / (wide * (quiet + DIM))
    return middle.astype(np.float64), np.clip(sure - FAINT, 0, CLEAR).astype(np.float64)


def _strip(point: Floats, way: Floats, along: Floats, moved: Picture) -> Picture:
    """The picture laid straight along a line: (places along, REACH px to either side)."""
    normal = np.array([-way[1], way[0]])
    beside = np.arange(-REACH, REACH + 1)
    x = point[0] + way[0] * along[:, None] + normal[0] * beside
    y = point[1] + way[1] * along[:, None] + normal[1] * beside
    across, down = (to_opencv(part).astype(np.float32) for part in (x, y))
    strip = cv2.remap(moved, across, down, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(strip, dtype=np.float32)


def _against_flanks(strip: Picture, reach: int, half: float) -> Picture:
    """By how much the middle of a strip, `reach` px to either side, differs from what its flanks would have
    there.
    """
    gap, flank = reach + 2, max(2, int(half))
    left = strip[:, REACH - gap - flank : REACH - gap].mean(axis=1)
    right = strip[:, REACH + gap + 1 : REACH + gap + 1 + flank].mean(axis=1)
    part = (np.arange(-reach, reach + 1) + gap + flank / 2) / (2 * gap + flank)
    due = left[:, None] + (right - left)[:, None] * part
    return np.asarray(strip[:, REACH - reach : REACH + reach + 1] - due, dtype=np.float32)


def _fitted(away: Floats, off: Floats, weight: Floats) -> tuple[tuple[float, float], float, float]:
    """(px beside, slope) of the line through the rows, u of the first at their middle, u of the second."""
    columns = np.stack([np.ones_like(away), away], axis=1)
    sure = weight
    spread = FLAT
    solved: Floats = np.zeros(2)
    for _ in range(4):
        normal = columns.T @ (columns * sure[:, None]) + 1e-9 * np.eye(2)
        solved = np.asarray(np.linalg.solve(normal, columns.T @ (sure * off)), dtype=np.float64)
        rest = np.abs(off - columns @ solved)
        spread = max(FLAT, 1.2533 * float(np.average(rest, weights=sure + 1e-9)))
        sure = weight * np.minimum(1, 2 * spread / np.maximum(rest, 1e-9))
    rows = max(FEW, float(sure.sum() ** 2 / max(float((sure**2).sum()), 1e-9)) / ROWS)
    level = spread / math.sqrt(rows)
    reach = math.sqrt(max(1.0, float(np.average(away**2, weights=sure + 1e-9))))
    return (float(solved[0]), float(solved[1])), level, level / reach
