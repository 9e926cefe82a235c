"""Where along a line a thin stripe lies: the picture is laid straight along it, and each place asked.

A stripe is darker or brighter than both its flanks; the smaller of the two differences counts, so that the
edge of an arm is none. It is tried in several widths, since a club that moves while the shutter is open is a
fan, broader and fainter towards its head.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Backdrop, Picture
from lessonpress.footage.tracking.club.votes import Line
from lessonpress.footage.tracking.halfpixel import to_opencv

Floats = NDArray[np.float64]

STEP = 4.0  # px along a line
FINE = 2  # steps into which that is parted to be averaged
REACH = 30  # px to either side that are looked at
HALVES = (1.0, 2.5, 5.0, 10.0)  # px, half widths of stripes
GAP = 2  # px between a stripe and its flanks
ROWS = 5  # fine steps over which the picture is averaged along the line
ROUNDING = 0.7  # grey levels more, of rounding and of what compression does
MOST = 6.0  # times its noise: as sure as one place can be
SEEN = 2.0  # times its noise, from which on a place speaks for a stripe and not against
SHIFTS = np.arange(-10, 11)  # px by which the stripe may lie beside the line that was voted for
SLOPES = np.arange(-4, 5) * 0.0125  # by which it may be turned against it
ALIKE = math.radians(2.5), 6.0  # in direction and px: two lines are one
LINES = 36  # looked at in a picture
PARTS = 2  # stripes of one line


@dataclass(frozen=True)
class Stripe:
    """A stripe of a picture, roughly: a point of it, the way along it (a unit vector) and from where to
    where, px from that point. score: px of it that are surely seen. half: its half width, px.
    """

    point: Floats
    way: Floats
    begins: float
    ends: float
    score: float
    half: float


@dataclass(frozen=True)
class _Strip:
    """The picture along some lines: (lines, steps, across). inside: (lines, steps), where it is picture."""

    moved: Picture
    own: Picture
    body: Picture
    inside: NDArray[np.bool_]


def stripes_along(
    lines: Sequence[Line], picture: Picture, moved: Picture, body: NDArray[np.uint8], backdrop: Backdrop
) -> list[Stripe]:
    """The stripes that lie along these lines, the most clearly seen first."""
    kept = _unlike(lines)
    if not kept:
        return []
    height, width = picture.shape
    reach = math.hypot(width, height) / 2
    along = np.arange(-reach, reach, STEP / FINE)
    strip = _laid(kept, along, picture, moved, body)
    along = along[::FINE]
    seen, halves = _seen(strip, backdrop.noise)
    middle = np.array([width / 2, height / 2])
    found: list[Stripe] = []
    for line, here, half in zip(kept, seen, halves, strict=True):
        found.extend(_on_line(line, along, here, half, middle))
    return sorted(found, key=lambda stripe: -stripe.score)


def _unlike(lines: Sequence[Line]) -> list[Line]:
    kept: list[Line] = []
    for line in lines:
        if len(kept) == LINES:
            break
        if not any(_alike(line, other) for other in kept):
            kept.append(line)
    return kept


def _alike(one: Line, other: Line) -> bool:
    apart = (one.angle - other.angle + math.pi / 2) % math.pi - math.pi / 2
    same = math.cos(one.angle - other.angle) > 0
    distance = one.distance if same else -one.distance
    return abs(apart) < ALIKE[0] and abs(distance - other.distance) < ALIKE[1]


def _laid(
    lines: Sequence[Line], along: Floats, picture: Picture, moved: Picture, body: NDArray[np.uint8]
) -> _Strip:
    height, width = picture.shape
    angle = np.array([line.angle for line in lines])[:, None, None]
    distance = np.array([line.distance for line in lines])[:, None, None]
    beside = distance + np.arange(-REACH, REACH + 1)
    x = width / 2 + np.cos(angle) * beside - np.sin(angle) * along[:, None]
    y = height / 2 + np.sin(angle) * beside + np.cos(angle) * along[:, None]
    maps = tuple(to_opencv(part).astype(np.float32).reshape(-1, part.shape[2]) for part in (x, y))

    def laid(source: NDArray[np.float32]) -> Picture:
        flat = cv2.remap(
            source, maps[0], maps[1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=0
        )
        return np.asarray(flat).reshape(x.shape)

    inside = (x > 1) & (x < width - 1) & (y > 1) & (y < height - 1)
    middle: NDArray[np.bool_] = inside[:, ::FINE, REACH]
    return _Strip(
        _averaged(laid(moved)), _averaged(laid(picture)), laid(body.astype(np.float32))[:, ::FINE], middle
    )


def _averaged(strip: Picture) -> Picture:
    """Over ROWS fine steps along each line, at every step."""
    lines, steps, across = strip.shape
    flat = cv2.blur(strip.transpose(1, 0, 2).reshape(steps, -1), (1, ROWS))
    return np.ascontiguousarray(np.asarray(flat).reshape(steps, lines, across)[::FINE].transpose(1, 0, 2))


def _seen(strip: _Strip, noise: float) -> tuple[Picture, NDArray[np.int8]]:
    """Times its noise by which a stripe is seen at each place of the strip, and which of HALVES it has."""
    best = np.zeros(strip.moved.shape, np.float32)
    which = np.zeros(strip.moved.shape, np.int8)
    before_body = strip.body > 0.5
    for number, half in enumerate(HALVES):
        moved, gain = _differs(strip.moved, half)
        own, _ = _differs(strip.own, half)
        both = np.where(moved * own > 0, np.minimum(np.abs(moved), np.abs(own)), 0)
        differs = np.where(before_body, both, np.abs(moved))
        sure = np.minimum(differs / (noise * gain / math.sqrt(ROWS) + ROUNDING), MOST)
        more = sure > best
        best[more] = sure[more]
        which[more] = number
    return best * strip.inside[:, :, None], which


def _differs(strip: Picture, half: float) -> tuple[Picture, float]:
    """By how much a stripe of that half width differs from the flank that it differs less from, grey levels,
    and the deviation of that where the strip's is 1.
    """
    inner, flank = int(half), max(2, int(half))
    lines, steps, across = strip.shape
    flat = strip.reshape(lines * steps, across)
    middle = cv2.blur(flat, (2 * inner + 1, 1), borderType=cv2.BORDER_REPLICATE)
    pad = inner + GAP + flank
    wide = cv2.copyMakeBorder(flat, 0, 0, pad, pad, cv2.BORDER_REPLICATE)
    beside = cv2.blur(wide, (flank, 1), anchor=(0, 0), borderType=cv2.BORDER_REPLICATE)
    left = middle - beside[:, pad - inner - GAP - flank + 1 :][:, :across]
    right = middle - beside[:, pad + inner + GAP :][:, :across]
    least = np.where(left * right > 0, np.sign(left) * np.minimum(np.abs(left), np.abs(right)), 0)
    return least.astype(np.float32).reshape(strip.shape), math.sqrt(1 / (2 * inner + 1) + 1 / flank)


def _on_line(
    line: Line, along: Floats, seen: Picture, halves: NDArray[np.int8], middle: Floats
) -> list[Stripe]:
    """The stripes along a line that may lie a little beside it."""
    clear = seen[:, REACH - 12 : REACH + 13].max(axis=1) > SEEN
    centre = float(along[clear].mean()) if clear.any() else 0.0
    away = along - centre
    beside = SHIFTS[:, None, None] + SLOPES[None, :, None] * away
    columns = np.clip(np.round(REACH + beside).astype(int), 0, 2 * REACH)
    places = np.arange(len(along))
    total = np.clip(seen[places, columns] - SEEN, 0, None).sum(axis=2)
    shift, slope = np.unravel_index(int(total.argmax()), total.shape)
    chosen = columns[shift, slope]
    across = np.array([math.cos(line.angle), math.sin(line.angle)])
    ahead = np.array([-across[1], across[0]])
    point = middle + (line.distance + float(SHIFTS[shift])) * across + centre * ahead
    way = ahead + float(SLOPES[slope]) * across
    # the way's own length is a hair over 1, and so is a step along it
    gains = (seen[places, chosen] - SEEN).astype(np.float64)
    widths = halves[places, chosen]
    stripes = []
    for first, last, score in _stretches(gains):
        half = HALVES[int(np.bincount(widths[first : last + 1], minlength=len(HALVES)).argmax())]
        stripes.append(
            Stripe(point, way / np.linalg.norm(way), float(away[first]), float(away[last]), score, half)
        )
    return stripes


def _stretches(gains: Floats) -> list[tuple[int, int, float]]:
    """The stretches with the greatest sums (J. Bentley 1984): first, last, and px surely seen."""
    left = gains.copy()
    found: list[tuple[int, int, float]] = []
    for _ in range(PARTS):
        sums = np.concatenate([[0.0], np.cumsum(left)])
        rise = sums - np.minimum.accumulate(sums)
        last = int(rise.argmax())
        if rise[last] <= 0:
            break
        first = int(sums[: last + 1].argmin())
        found.append((first, last - 1, float(rise[last]) * STEP / (MOST - SEEN)))
        left[first:last] = -1e3
    return found
