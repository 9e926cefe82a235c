"""A mark carried from where it was placed by hand over the pictures between.

From each hand-placed frame the point is carried forward to the next and backward to the one before
(`run.py`); what such a run cannot know of its own errors is added to them (`slide.py`), and the two are
joined where they agree (`joining.py`). Where no run is to be believed, what a network sees of the body may
fill in (`guided.py`), if the author has it, and for a clubhead the shaft that leads to it (`club/`); else
there is a gap that says why.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.heads import clubheads
from lessonpress.footage.tracking.club.known import Club
from lessonpress.footage.tracking.club.places import HEAD
from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.footage.tracking.guided import Guidance, guided
from lessonpress.footage.tracking.joining import AGREE, CLICKED, Carried, carry_between
from lessonpress.footage.tracking.run import SIDE, side_of
from lessonpress.records import Observation, Point

ELSEWHERE = "the shaft leads elsewhere than what was followed"


@dataclass(frozen=True)
class Gap:
    """Frames, first to last, over which a mark could not be followed, and why."""

    first: int
    last: int
    reason: str


@dataclass(frozen=True)
class Track:
    """rows: tracked observations by frame, none on hand-placed ones. gaps: where there are none."""

    rows: tuple[Observation, ...]
    gaps: tuple[Gap, ...]

    @property
    def lost(self) -> str | None:
        """Where the mark was lost and why, in words; None where every frame asked for has its point."""
        return "; ".join(_told(gap) for gap in self.gaps) or None


def track_mark(
    pictures: Iterable[tuple[int, NDArray[np.uint8]]],
    mark: str,
    hand: Mapping[int, Point],
    first: int,
    last: int,
    guidance: Guidance | None = None,
    club: Club | None = None,
) -> Track:
    """Carry `mark` over frames `first` to `last` of pictures (frame, RGB (h, w, 3)), ascending.

    hand: its points (x, y) in px by frame, by hand; those outside first..last, or without a picture, are left
    out. Each row's u is the standard uncertainty per axis in px of the carrying alone: the click's error at
    `origin`, the nearer hand-placed frame, comes on top and is the same for all rows of that origin.
    guidance: what is suggested for the mark, which fills what the picture's own likeness leaves open. club:
    for a clubhead, what is known of the club.
    """
    with FrameStore((frame, picture) for frame, picture in pictures if first <= frame <= last) as store:
        frames = store.frames
        placed = {frame: point for frame, point in sorted(hand.items()) if frame in store}
        if not placed:
            return Track((), (Gap(first, last, "it is placed by hand on none of these frames"),))
        scale = side_of(store.shape) / SIDE
        spans = [
            (early, late, _between(frames, early, late)) for early, late in pairwise([None, *placed, None])
        ]
        carried = [carry_between(store, mark, placed, early, late, span) for early, late, span in spans]
        by_pixels = [row for one in carried for row in one.rows]
        seen = guided(mark, placed, guidance, scale, by_pixels) if guidance else {}
        if mark == HEAD:
            seen = clubheads(store, placed, club or Club({}, "face-on", ()))
            carried = [_doubted(one, seen) for one in carried]
        rows: list[Observation] = []
        gaps: list[Gap] = []
        for one, (_, _, span) in zip(carried, spans, strict=True):
            filled, why = _filled(one, seen)
            rows.extend(filled)
            gaps.extend(_gaps(why, span))
    return Track(tuple(rows), tuple(gaps))


def _filled(
    carried: Carried, seen: Mapping[int, Observation | str]
) -> tuple[list[Observation], dict[int, str]]:
    """The rows with those that what is seen of the body adds, by frame, and why there is still none
    elsewhere.
    """
    added = [
        row
        for frame, reason in carried.why.items()
        if isinstance(row := seen.get(frame), Observation) and reason != ELSEWHERE
    ]
    rows = sorted([*carried.rows, *added], key=lambda row: row.frame)
    given = {row.frame for row in rows}
    doubts = {frame: why for frame, why in seen.items() if isinstance(why, str)}
    why = {
        frame: "; ".join([reason, *([doubts[frame]] if frame in doubts else [])])
        for frame, reason in carried.why.items()
        if frame not in given
    }
    return rows, why


def _doubted(carried: Carried, seen: Mapping[int, Observation | str]) -> Carried:
    """What was carried, less the places where the shaft leads elsewhere, which then have none, and those
    where it leads to the same with more confidence.
    """
    rows: list[Observation] = []
    why = dict(carried.why)
    for row in carried.rows:
        other = seen.get(row.frame)
        if not isinstance(other, Observation):
            rows.append(row)
        elif math.dist((row.x, row.y), (other.x, other.y)) > AGREE * math.hypot(
            row.u or 0.0, other.u or 0.0, CLICKED
        ):
            why[row.frame] = ELSEWHERE
        else:
            rows.append(row if (row.u or 0.0) <= (other.u or 0.0) else other)
    return Carried(tuple(rows), why)


def _between(frames: tuple[int, ...], early: int | None, late: int | None) -> list[int]:
    return [frame for frame in frames if (early is None or frame > early) and (late is None or frame < late)]


def _gaps(why: Mapping[int, str], span: list[int]) -> Iterator[Gap]:
    """Frames that follow each other in `span` and are missing for one reason, as one gap."""
    for reason, group in groupby(span, key=why.get):
        frames = list(group)
        if reason is not None:
            yield Gap(frames[0], frames[-1], reason)


def _told(gap: Gap) -> str:
    where = f"frame {gap.first}" if gap.first == gap.last else f"frames {gap.first} to {gap.last}"
    return f"{where}: {gap.reason}"
