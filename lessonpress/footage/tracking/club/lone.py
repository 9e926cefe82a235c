"""Spots that may be the clubhead, looked for without a shaft: a club that points at the camera shows none.

A head is darker than all around it, or brighter, and moved; it is about as large as where it was clicked and
as dark or bright. What stands out so is found by the top hat of the picture and of what moved in it (F. Meyer
1979), freed of what is as thin as a shaft. Where most clicks do not show the head so, none is looked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Backdrop, Picture
from lessonpress.footage.tracking.club.spot import OF_IT, SOFT, Spot, softened
from lessonpress.footage.tracking.halfpixel import from_opencv

Floats = NDArray[np.float64]

HAT, THIN = 45, 9  # px: what is broader on both sides is no head, what is thinner is a shaft
STANDS_OUT, LEAST_OUT = 8.0, 30.0  # times the noise of a mean, and grey levels, by which a head stands out
HALF = 0.5  # of what it stands out by: as far it reaches
SAME_LEVEL, INSIDE = 12.0, 2  # grey levels, by which it is as dark or bright; px about its middle
LARGER, SMALLER = 3.0, 2.0  # than at any click: it is nearer, or turned
FEWEST, SHOWN = 2, 0.5  # clicks that show it at the least, and of which share more than that have to
EDGE = 2  # px from the picture's edge: more of it may lie beyond
RIM = 3, 9  # px around a spot, between which little else may stand out
RIM_OUT, MOST_RIM = 0.3, 0.35  # of what the spot does, and in which share of them at the most


@dataclass(frozen=True)
class Look:
    """How the head looks at the clicks. sign: 1 where it is brighter than what is around it, -1 where it is
    darker. least: grey levels by which it is in any picture. level, area: grey levels and px², the least and
    the most that it has itself. askew: (n, 2), px from the clicks to the middles of their spots.
    """

    sign: int
    least: float
    level: tuple[float, float]
    area: tuple[float, float]
    askew: Floats

    def fits(self, one: _Piece) -> bool:
        """Whether a piece may be the head."""
        (dark, bright), (small, large) = self.level, self.area
        return dark <= one.level <= bright and small <= one.spot.area <= large


@dataclass(frozen=True)
class _Piece:
    """level: grey levels of the picture in its middle."""

    spot: Spot
    level: float


def look_of(clicks: Sequence[tuple[Floats, Picture]], backdrop: Backdrop) -> Look | None:
    """By the clicked heads, px, and those pictures; None where they do not look alike."""
    looks = [look for sign in (-1, 1) if (look := _look(clicks, sign, backdrop)) is not None]
    return max(looks, key=lambda look: len(look.askew), default=None)


def _look(clicks: Sequence[tuple[Floats, Picture]], sign: int, backdrop: Backdrop) -> Look | None:
    """As far as it is darker, or brighter, at the clicks."""
    least = max(STANDS_OUT * backdrop.noise / SOFT, LEAST_OUT)
    heads = [head for head, _ in clicks]
    hats = [_hat(picture, backdrop, sign) for _, picture in clicks]
    alone = [
        _nearest(head, _pieces(picture, hat, least))
        for (head, picture), hat in zip(clicks, hats, strict=True)
    ]
    levels = [one.level for one in alone if one is not None]
    if not levels:
        return None
    level = min(levels) - SAME_LEVEL, max(levels) + SAME_LEVEL
    found = [
        one or _nearest(head, _pieces(picture, _alike(picture, hat, level), least))
        for one, (head, picture), hat in zip(alone, clicks, hats, strict=True)
    ]
    shown = [(head, one) for head, one in zip(heads, found, strict=True) if one is not None]
    if len(shown) < FEWEST or len(shown) <= SHOWN * len(clicks):
        return None
    areas = [one.spot.area for _, one in shown]
    askew = np.array([one.spot.middle - head for head, one in shown])
    return Look(sign, least, level, (min(areas) / SMALLER, LARGER * max(areas)), askew)


def lone_spots(picture: Picture, look: Look, backdrop: Backdrop) -> list[Spot]:
    """What may be the head in a picture: what stands out by itself, and else what does of as dark or bright
    parts alone, such as a head before a limb.
    """
    hat = _hat(picture, backdrop, look.sign)
    whole, parts = (
        [one.spot for one in _pieces(picture, levels, look.least) if look.fits(one)]
        for levels in (hat, _alike(picture, hat, look.level))
    )
    return [*whole, *(one for one in parts if not any(_same(one, other) for other in whole))]


def _alike(picture: Picture, hat: Picture, level: tuple[float, float]) -> Picture:
    """What stands out, where the picture is as dark or bright as that."""
    soft = softened(picture)
    return np.asarray(np.where((level[0] <= soft) & (soft <= level[1]), hat, 0), np.float32)


def _same(one: Spot, other: Spot) -> bool:
    return float(np.linalg.norm(one.middle - other.middle)) < OF_IT


def _hat(picture: Picture, backdrop: Backdrop, sign: int) -> Picture:
    """By how much each px stands out from all that is broader, grey levels, both in the picture and in what
    moved: what a golfer who moves uncovers is narrow in that alone.
    """
    both = (
        _narrow(sign * softened(picture)),
        _narrow(np.clip(sign * softened(picture - backdrop.room), 0, None)),
    )
    thin = np.ones((THIN, THIN), np.uint8)
    return np.asarray(cv2.morphologyEx(np.minimum(both[0], both[1]), cv2.MORPH_OPEN, thin), np.float32)


def _narrow(levels: Picture) -> Picture:
    return np.asarray(cv2.morphologyEx(levels, cv2.MORPH_TOPHAT, np.ones((HAT, HAT), np.uint8)), np.float32)


def _pieces(picture: Picture, hat: Picture, least: float) -> list[_Piece]:
    """What stands out by as much, each as far as it does by half of the most, if clear of others."""
    _, pieces, measures, _ = cv2.connectedComponentsWithStats((hat > least).astype(np.uint8))
    cuts = (_about(box) for box in measures[1:, :4].tolist())
    made = (
        _spot(hat[at], np.asarray(pieces[at] == number), np.array([at[1].start, at[0].start]))
        for number, at in enumerate(cuts, 1)
    )
    return [_Piece(spot, _level(picture, spot.middle)) for spot in made if spot is not None]


def _level(picture: Picture, middle: Floats) -> float:
    """Grey levels of the picture about a place."""
    x, y = np.floor(middle).astype(int).tolist()
    return float(picture[max(y - INSIDE, 0) : y + INSIDE + 1, max(x - INSIDE, 0) : x + INSIDE + 1].mean())


def _about(box: Sequence[int]) -> tuple[slice, slice]:
    """Rows and columns of a piece and of what is around it. box: its left, top, width and height, px."""
    left, top, width, height = box
    return (
        slice(max(top - RIM[1], 0), top + height + RIM[1]),
        slice(max(left - RIM[1], 0), left + width + RIM[1]),
    )


def _spot(hat: Picture, piece: NDArray[np.bool_], corner: NDArray[np.int_]) -> Spot | None:
    """The part of a piece that stands out most; None where much around it does as well, or some of it may lie
    beyond the picture. corner: (2,), px, of what is cut out in the picture, with RIM around if it has that.
    """
    levels = np.where(piece, hat, 0)
    peak = np.unravel_index(int(levels.argmax()), levels.shape)
    clear = (levels > HALF * levels[peak]).astype(np.uint8)
    _, parts, measures, middles = cv2.connectedComponentsWithStats(clear)
    number = int(parts[peak])
    left, top, wide, tall = measures[number, :4].tolist()
    if min(left, top, hat.shape[1] - left - wide, hat.shape[0] - top - tall) < EDGE:
        return None
    head = (parts == number).astype(np.uint8)
    near, far = (np.asarray(cv2.dilate(head, np.ones((2 * reach + 1,) * 2, np.uint8))) > 0 for reach in RIM)
    if float((hat[far & ~near] > RIM_OUT * levels[peak]).mean()) > MOST_RIM:
        return None
    return Spot(from_opencv(middles[number]) + corner, float(measures[number, cv2.CC_STAT_AREA]))


def _nearest(head: Floats, pieces: Iterable[_Piece]) -> _Piece | None:
    near = [(float(np.linalg.norm(one.spot.middle - head)), one) for one in pieces]
    off, nearest = min(near, key=lambda one: one[0], default=(OF_IT, None))
    return nearest if off < OF_IT else None
