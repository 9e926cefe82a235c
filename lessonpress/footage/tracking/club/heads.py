"""The clubhead in the pictures between clicks: at the end of the shaft, put right by where it was clicked.

How a shaft ends at the head is in `ends.py`, which of the shafts that were followed may be believed in
`places.py`. Along the target line, where the club points at the camera now and then, a place is given only
where the head itself is seen, and that is looked for without a shaft as well (`lone.py`).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Backdrop, backdrop_of
from lessonpress.footage.tracking.club.clock import clock_of
from lessonpress.footage.tracking.club.ends import (
    SPOT_WORST,
    Anchor,
    Room,
    alike,
    anchor_of,
    club_at,
    oddness,
    room_of,
    spot_u,
)
from lessonpress.footage.tracking.club.known import TOO_FAST, Club
from lessonpress.footage.tracking.club.lone import lone_spots, look_of
from lessonpress.footage.tracking.club.path import Seen
from lessonpress.footage.tracking.club.places import OUTSIDE, places_of, ways_between
from lessonpress.footage.tracking.club.shafts import Shaft, shafts_in, with_spots
from lessonpress.footage.tracking.club.spot import OF_IT
from lessonpress.footage.tracking.club.steadied import Steadied, steadied
from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.records import Observation, Point

Floats = NDArray[np.float64]

NO_GRIP = "the grip is not placed on both pictures on which the clubhead is, so that no shaft is looked for"
MOVED = "how the camera moved is not known there"
FEWEST = 8  # pictures that show enough of the room behind the golfer


def clubheads(store: FrameStore, heads: Mapping[int, Point], club: Club) -> dict[int, Observation | str]:
    """By frame between two clicks on the head, where it is, or why that is not known.

    heads: where it is by hand, px, by frame. Where either end of a stretch has no grip, nothing is looked
    for: a shaft of which one point is known was tried, and led astray.
    """
    grips = {frame: grip for frame, grip in club.grips.items() if frame in store}
    placed = sorted(heads)
    frames = [frame for frame in store.frames if placed[0] <= frame <= placed[-1]]
    if len(placed) < 2 or len(frames) < FEWEST:
        return {}
    if len(grips.keys() & heads.keys()) < 2:
        return dict.fromkeys(set(frames) - set(placed), NO_GRIP)
    film = steadied(store, frames, {at: [heads[at], grips[at]] for at in grips.keys() & heads.keys()})
    if len(film.frames) < FEWEST:
        return dict.fromkeys(set(frames) - set(placed), MOVED)
    backdrop = backdrop_of(film)
    lone = _lone(film, backdrop, heads) if club.end_on else None
    clock = clock_of(film.frames, club.seconds)
    if club.too_fast and lone is None:
        return dict.fromkeys(set(frames) - set(placed), TOO_FAST)
    seen = {frame: _shafts(film[frame], backdrop) for frame in film.frames}
    anchors = {
        frame: anchor_of(
            film.onto(frame, heads[frame]), film.onto(frame, grips[frame]), frame, seen[frame], backdrop.scale
        )
        for frame in placed
        if frame in grips and frame in seen
    }
    known = alike([one for anchor in anchors.values() if (one := anchor.beyond) is not None])
    found: dict[int, Observation | str] = {}
    for early, late in pairwise(placed):
        between = [frame for frame in frames if early < frame < late]
        if early not in anchors or late not in anchors:
            known_there = {early, late} <= grips.keys()
            found.update(dict.fromkeys(between, MOVED if known_there else NO_GRIP))
        elif not len(known):
            found.update(dict.fromkeys(between, "no shaft is seen to end where the clubhead was placed"))
        else:
            room = replace(room_of(anchors, known, backdrop, clock), end_on=club.end_on)
            steady = _between(
                [at for at in between if at in seen], anchors[early], anchors[late], seen, lone, known, room
            )
            found.update(dict.fromkeys(between, MOVED))
            found.update({at: _as_filmed(place, film) for at, place in steady.items()})
    return found


def _shafts(grey: NDArray[np.uint8], backdrop: Backdrop) -> list[Shaft]:
    return with_spots(shafts_in(grey, backdrop), grey, backdrop)


def _lone(film: Steadied, backdrop: Backdrop, heads: Mapping[int, Point]) -> dict[int, list[Seen]] | None:
    """By frame, what may be the head alone; None where the clicks do not show how it looks."""
    clicks = [
        (np.array(film.onto(at, head)) * backdrop.scale, backdrop.looked_at(film[at]))
        for at, head in heads.items()
        if at in film.frames
    ]
    look = look_of(clicks, backdrop)
    if look is None:
        return None
    u = spot_u(look.askew)
    return {
        frame: [
            Seen(frame, spot.middle, None, u, u, like=True)
            for spot in lone_spots(backdrop.looked_at(film[frame]), look, backdrop)
        ]
        for frame in film.frames
    }


def _as_filmed(place: Observation | str, film: Steadied) -> Observation | str:
    """A place in its own picture again."""
    if isinstance(place, str):
        return place
    x, y = film.back(place.frame, (place.x, place.y))
    if film.at_edge((x, y)):
        return OUTSIDE
    return replace(place, x=x, y=y, u=math.hypot(place.u or 0.0, film.u(place.frame, (x, y))))


def _between(
    frames: Sequence[int],
    early: Anchor,
    late: Anchor,
    seen: Mapping[int, Sequence[Shaft]],
    lone: Mapping[int, Sequence[Seen]] | None,
    known: Floats,
    room: Room,
) -> dict[int, Observation | str]:
    usual = np.median(known, axis=0)
    odd = [oddness(one, usual) for one in (early, late)]
    begins, ends = (
        usual if one.beyond is None or off > 0 else one.beyond
        for one, off in zip((early, late), odd, strict=True)
    )
    span = late.click.frame - early.click.frame
    clubs: dict[int, list[Seen]] = {}
    for frame in frames:
        part = (frame - early.click.frame) / span
        beyond = (1 - part) * begins + part * ends
        there = replace(room, along=math.hypot(room.along, (1 - part) * odd[0], part * odd[1]))
        clubs[frame] = [club_at(frame, shaft, beyond, there) for shaft in seen[frame]]
        if lone is not None:
            clubs[frame] = [_likened(one, lone[frame]) for one in clubs[frame]]
            clubs[frame].extend(one for one in lone[frame] if one.along <= SPOT_WORST)
    found: dict[int, Observation | str] = dict.fromkeys(
        frames, "no shaft is seen there that the clicks lead to"
    )
    for way in ways_between(early.click, late.click, frames, clubs, room):
        for frame, place in places_of(way, clubs, room).items():
            twice = isinstance(found[frame], Observation) and isinstance(place, Observation)
            found[frame] = "the two ways of following the shaft part" if twice else place
    return found


def _likened(one: Seen, lone: Sequence[Seen]) -> Seen:
    """With the head where what looks like it is, if that is near to where its end has it."""
    nearest = min(lone, key=lambda like: float(np.linalg.norm(one.head - like.head)), default=None)
    if nearest is None or float(np.linalg.norm(one.head - nearest.head)) >= OF_IT:
        return replace(one, like=False)
    if nearest.along > SPOT_WORST:
        return replace(one, like=True)
    return replace(
        one, head=nearest.head, along=nearest.along, across=nearest.across, spotted=True, like=True
    )
