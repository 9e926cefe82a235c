"""A mark carried by what a network sees of the body, put right at every picture where it was placed by hand.

What is suggested is off by much that stays: the network's shoulder is not the trade's, nor its knee under a
trouser. At a click it shows by how much; between two clicks that changes little, straight in time. What is
left is what differs from picture to picture, and a smooth path takes most of that away: at each picture the
straight line through its neighbours that fits best, nearer and surer ones counting more and outlying ones
nothing (robust locally weighted regression of first degree, W. S. Cleveland 1979). A click that lies too far
from what is suggested says that something else was seen, and nothing is given on either side of it.

Its u is learnt (`pose/learnt.json`): a part in proportion to the body, and a share of what the two clicks'
corrections differ by, none at a click and most between them.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.bodymarks import SUGGESTED, part_of
from lessonpress.footage.pose.learnt import LearntPath, learnt_for
from lessonpress.footage.pose.suggesting import Guide, Suggestion
from lessonpress.records import Observation, Point, View

Floats = NDArray[np.float64]

UNSURE = 6.0  # px per axis, for a picture 720 px high: a place less sure is not given
REACH = 4  # pictures before and after that a path is smoothed over
CONTRADICTED = 2.5  # u of what is suggested: a click farther off says that something else was seen
AGAIN = 2  # times that the line is laid anew without what lies far from it
OUTLYING = 6.0  # times the middling distance from the line, from which on a place counts for nothing
LEAST_OFF = 0.5  # px, of that distance
ENOUGH = 3  # pictures through which a line is laid; with fewer nothing is given


@dataclass(frozen=True)
class Guidance:
    """What is suggested for a mark, by frame, and what was learnt of such paths."""

    guides: Mapping[int, Guide]
    learnt: LearntPath


@dataclass(frozen=True)
class Corrected:
    """A place between two clicks. bend: px by which the clicks' corrections differ, none at a click and all
    between.

    side: of the square around the body, px.
    """

    point: Point
    bend: float
    side: float


def guided_marks(view: View, hand: Mapping[str, Collection[int]]) -> tuple[str, ...]:
    """Those marks that can be carried so, seen from there. hand: each mark's hand-placed frames."""
    learnt = learnt_for(view)
    if learnt is None:
        return ()
    known = [mark for mark in SUGGESTED if part_of(mark) in learnt.paths]
    return tuple(mark for mark in known if len(hand.get(mark, ())) > 1)


def guidances(found: Iterable[Suggestion], view: View, marks: Collection[str]) -> dict[str, Guidance]:
    """For each of these marks, of `guided_marks`, what is suggested for it in the pictures gone through."""
    learnt = learnt_for(view)
    if learnt is None:
        return {}
    guides: dict[str, dict[int, Guide]] = {mark: {} for mark in marks}
    for one in found:
        for mark in marks:
            if (guide := one.guide(mark)) is not None:
                guides[mark][one.frame] = guide
    return {mark: Guidance(its, learnt.paths[part_of(mark)]) for mark, its in guides.items()}


def guided(
    mark: str, hand: Mapping[int, Point], guidance: Guidance, scale: float
) -> dict[int, Observation | str]:
    """By frame the mark's row, or why what is seen of the body is not sure enough there.

    scale: the picture's shorter side over 720 px.
    """
    rows: dict[int, Observation | str] = {}
    for frame, found in corrected(hand, guidance.guides).items():
        u = guidance.learnt.u(found.bend, found.side)
        origin = min(hand, key=lambda click, at=frame: (abs(click - at), click))  # type: ignore[misc]
        row = Observation(mark, frame, *found.point, u, tracked=True, origin=origin)
        sure = u <= UNSURE * scale
        rows[frame] = row if sure else f"what is seen of the body leaves {u:.1f} px in doubt"
    return rows


def corrected(hand: Mapping[int, Point], guides: Mapping[int, Guide]) -> dict[int, Corrected]:
    """The places between the clicks of `hand`, by frame, where the body was seen there and at both clicks."""
    path = {frame: point for frame in guides if (point := _smoothed(frame, guides)) is not None}
    found: dict[int, Corrected] = {}
    for early, late in pairwise(sorted(hand)):
        if early not in path or late not in path:
            continue
        begins, ends = (_less(hand[click], path[click]) for click in (early, late))
        if any(math.hypot(*off) > CONTRADICTED * guides[at].u for at, off in ((early, begins), (late, ends))):
            continue
        for frame in (one for one in path if early < one < late):
            part = (frame - early) / (late - early)
            x, y = path[frame]
            point = (
                x + (1 - part) * begins[0] + part * ends[0],
                y + (1 - part) * begins[1] + part * ends[1],
            )
            bend = 2 * math.sqrt(part * (1 - part)) * math.dist(begins, ends)
            found[frame] = Corrected(point, bend, guides[frame].side)
    return found


def _smoothed(frame: int, guides: Mapping[int, Guide]) -> Point | None:
    """Where the line through the neighbours has the mark; None with too few of them."""
    near = [one for one in range(frame - REACH, frame + REACH + 1) if one in guides]
    if len(near) < ENOUGH:
        return None
    away = np.array(near, dtype=np.float64) - frame
    columns = np.column_stack([np.ones_like(away), away])
    places = np.array([guides[one].point for one in near])
    nearness = (1 - np.abs(away) / (REACH + 1)) / np.array([guides[one].u for one in near]) ** 2
    weight = nearness
    for _ in range(AGAIN):
        line = _line(columns, places, weight)
        off = np.linalg.norm(places - columns @ line, axis=1)
        far = OUTLYING * max(float(np.median(off)), LEAST_OFF)
        weight = nearness * np.maximum(1 - (off / far) ** 2, 0.0) ** 2
    x, y = _line(columns, places, weight)[0]
    return float(x), float(y)


def _line(columns: Floats, places: Floats, weight: Floats) -> Floats:
    root = np.sqrt(weight)[:, None]
    return np.asarray(np.linalg.lstsq(columns * root, places * root, rcond=None)[0])


def _less(one: Point, other: Point) -> Point:
    return one[0] - other[0], one[1] - other[1]
