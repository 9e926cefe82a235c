"""How a shaft's stripe ends at the head: by how much at the clicks, and so where heads are elsewhere.

Where a spot broader than the shaft is seen at its end (`spot.py`), about as large as at the clicks, its
middle is the head's; else the end of the stripe is, less what it goes on beyond the head at the clicks.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Backdrop
from lessonpress.footage.tracking.club.clock import Clock
from lessonpress.footage.tracking.club.path import Click, Seen
from lessonpress.footage.tracking.club.shafts import Shaft
from lessonpress.footage.tracking.club.spot import OF_IT
from lessonpress.records import Point

Floats = NDArray[np.float64]

BESIDE, PAST = 10.0, 30.0  # px from a click to the stripe that ends there, across and along
ODD = 6.0  # px by which a stripe's end beyond the head may differ from that of other clicks
ALIGNED = math.radians(8), 4.0  # from the stripe to the line between both clicked ends, and px at its end
REACHES = 1.2  # of the longest clicked club: one that is nearer to the camera and broadside to it
ALONG = 1.2  # px, least u along it
SIDEWAYS = 0.7  # of how far a head's middle lies beside its shaft at a click: it turns about the shaft
SPOT, SPOT_UNSEEN = 3.0, 5.0  # px, least u of a head by its spot, and where no click shows one
SPOT_WORST = 6.0  # px of it, beyond which spots are not heeded
LIKE = 2.5  # times as large or small as at a click may a spot be
AGREE = 3.0  # deviations by which the spot may lie from where the end of the stripe has the head
DEEP = 0.014  # of the club's length: what a head reaches beyond its middle changes by as it turns


@dataclass(frozen=True)
class Anchor:
    """A clicked picture. shaft: of which the head is the end; None where no stripe was seen."""

    click: Click
    shaft: Shaft | None

    @property
    def askew(self) -> Floats | None:
        """px from the head to the middle of its spot, along the stripe and across."""
        if self.shaft is None or self.shaft.spot is None:
            return None
        off = self.shaft.spot.middle - self.click.head
        if float(np.linalg.norm(off)) > OF_IT:
            return None
        return np.array([float(off @ self.shaft.way), float(off @ _normal(self.shaft))])

    @property
    def beyond(self) -> Floats | None:
        """px from the head to the end of the stripe, along it and across."""
        if self.shaft is None:
            return None
        off = self.shaft.end - self.click.head
        return np.array([float(off @ self.shaft.way), float(off @ _normal(self.shaft))])


@dataclass(frozen=True)
class Spots:
    """What clicks show of heads as spots. u: of a head taken to be in the middle of its spot, px per axis.
    least, most: px², of a spot that may be the head's.
    """

    u: float
    least: float
    most: float

    def head(self, shaft: Shaft) -> Floats | None:
        """Where the spot at a shaft's end has the head; None where there is none like those clicked."""
        spot = shaft.spot
        return spot.middle if spot is not None and self.least <= spot.area <= self.most else None


@dataclass(frozen=True)
class Room:
    """What holds of a whole film. reach: px, how long the club can look. along, across: px, u of where a
    stripe ends beyond the middle of the head. scale: px looked through to one of the film's. clock: of its
    pictures. end_on: whether the club points at the camera now and then.
    """

    reach: float
    along: float
    across: float
    scale: float
    spots: Spots
    clock: Clock
    end_on: bool = False


def spot_u(askew: Floats) -> float:
    """px, u of a head taken to be in the middle of its spot. askew: (n, 2), px, of that at clicks."""
    aside = SIDEWAYS if len(askew) > 1 else 1.0
    return max(SPOT, aside * float(np.abs(askew).max())) * math.sqrt(1 + 1 / len(askew))


def room_of(anchors: Mapping[int, Anchor], known: Floats, backdrop: Backdrop, clock: Clock) -> Room:
    longest = max(math.dist(anchor.click.head, anchor.click.hands) for anchor in anchors.values())
    along, across = known.std(axis=0, ddof=1) if len(known) > 1 else (ALONG, 0.0)
    across = max(float(across), (SIDEWAYS if len(known) > 1 else 1.0) * float(np.abs(known[:, 1]).max()))
    along = math.hypot(DEEP * longest, float(along))
    few = math.sqrt(1 + 1 / len(known))  # of a value foretold by the mean of so many
    spots = _spots(anchors.values())
    return Room(REACHES * longest, few * along, few * across, backdrop.scale, spots, clock)


def _spots(anchors: Iterable[Anchor]) -> Spots:
    shown = [
        (off, anchor.shaft.spot.area)
        for anchor in anchors
        if anchor.shaft is not None and anchor.shaft.spot is not None and (off := anchor.askew) is not None
    ]
    if not shown:
        return Spots(SPOT_UNSEEN, 0.0, math.inf)
    usual = float(np.median([area for _, area in shown]))
    like = [off for off, area in shown if usual / LIKE <= area <= LIKE * usual]
    u = spot_u(np.array(like))
    return Spots(u, *((usual / LIKE, LIKE * usual) if u <= SPOT_WORST else (math.inf, 0.0)))


def anchor_of(head: Point, grip: Point, frame: int, seen: Sequence[Shaft], scale: float) -> Anchor:
    click = Click(frame, np.array(grip) * scale, np.array(head) * scale)
    fitting = [shaft for shaft in seen if _ends_at(shaft, click)]
    return Anchor(click, max(fitting, key=lambda one: one.score, default=None))


def _ends_at(shaft: Shaft, click: Click) -> bool:
    if shaft.cut:
        return False
    off = click.head - shaft.end
    of_it = shaft.spot is not None and float(np.linalg.norm(shaft.spot.middle - click.head)) < OF_IT
    if not of_it and (abs(float(off @ _normal(shaft))) > BESIDE or abs(float(off @ shaft.way)) > PAST):
        return False
    club = click.head - click.hands
    length = max(float(np.linalg.norm(club)), 1e-6)
    return float(club @ shaft.way) / length > math.cos(ALIGNED[0] + math.atan2(ALIGNED[1], length))


def _normal(shaft: Shaft) -> Floats:
    return np.array([-shaft.way[1], shaft.way[0]])


def alike(beyond: Sequence[Floats]) -> Floats:
    """(n, 2): those near to most along the stripe: at a click it may be cut short or go on into something
    else.
    """
    every = np.array(beyond).reshape(-1, 2)
    usual = float(np.median(every[:, 0])) if len(every) else 0.0
    return every[np.abs(every[:, 0] - usual) <= ODD]


def oddness(anchor: Anchor, usual: Floats) -> float:
    """px by which a stripe ends elsewhere at a click than at others, if by much: so it may on the pictures
    beside it.
    """
    off = 0.0 if anchor.beyond is None else abs(float(anchor.beyond[0] - usual[0]))
    return off if off > ODD else 0.0


def club_at(frame: int, shaft: Shaft, beyond: Floats, room: Room) -> Seen:
    """With the head where its spot is, or where the stripe's end has it, px `beyond` the head."""
    normal = _normal(shaft)
    by_end = shaft.end - beyond[0] * shaft.way - beyond[1] * normal
    head = room.spots.head(shaft)
    if head is not None:
        u = room.spots.u
        along, across = abs(float((head - by_end) @ shaft.way)), abs(float((head - by_end) @ normal))
        if along <= AGREE * math.hypot(room.along, u) and across <= AGREE * math.hypot(room.across, u):
            return Seen(frame, head, shaft, u, u, spotted=True)
    return Seen(frame, by_end, shaft, room.along, room.across)
