"""A mark carried by what a network sees of the body, put right at every picture where it was placed by hand.

What is suggested is off by much that stays: the network's shoulder is not the trade's, nor its knee under a
trouser. By how much, it shows at a click and where pixels carried the mark; elsewhere that is foretold, with
its u, from how like the postures are and how near in time (`offsets.py`). What differs from picture to
picture a smooth path takes away before: at each picture the straight line in time through its neighbours
that fits best, nearer and surer ones counting more and outlying ones nothing (robust locally weighted
regression of first degree, W. S. Cleveland 1979). A click that lies too far from what is suggested says that
something else was seen, and nothing is given on either side of it.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.bodymarks import SUGGESTED, part_of
from lessonpress.footage.pose.learnt import LearntPath, learnt_for
from lessonpress.footage.pose.suggesting import Guide, Suggestion
from lessonpress.footage.tracking.offsets import Known, covariance, foretold, unlike
from lessonpress.records import Observation, Point, View

Floats = NDArray[np.float64]

UNSURE = 8.0  # px per axis, for a picture 720 px high: a place less sure is not given, as of a clubhead
REACH = 0.2  # real seconds before and after that a path is smoothed over: shorter than a downswing
NEAR = 4  # pictures before and after, where so long a time holds fewer
CLICKED = 0.7  # px, standard uncertainty of a click per axis, of one placed with care
CONTRADICTED = 4.0  # u of what is suggested, as 1 of 200 clicks is off: farther off, something else was seen
EDGE = 1.25  # times the farthest of these, where a place would weigh nothing
AGAIN = 2  # times that the line is laid anew without what lies far from it
OUTLYING = 6.0  # times the middling distance from the line, from which on a place counts for nothing
LEAST_OFF = 0.5  # px, of that distance
ENOUGH = 3  # pictures through which a line is laid; with fewer nothing is given


@dataclass(frozen=True)
class Guidance:
    """What is suggested for a mark, by frame, and what was learnt of such paths. seconds: the real time of
    each picture of the film.
    """

    guides: Mapping[int, Guide]
    learnt: LearntPath
    seconds: Sequence[float]


@dataclass(frozen=True)
class Corrected:
    """A place between two clicks. u: px per axis, a part of what the clicks are off by is in it."""

    point: Point
    u: float


def guided_marks(view: View, hand: Mapping[str, Collection[int]]) -> tuple[str, ...]:
    """Those marks that can be carried so, seen from there. hand: each mark's hand-placed frames."""
    learnt = learnt_for(view)
    if learnt is None:
        return ()
    known = [mark for mark in SUGGESTED if part_of(mark) in learnt.paths]
    return tuple(mark for mark in known if len(hand.get(mark, ())) > 1)


def guidances(
    found: Iterable[Suggestion], view: View, marks: Collection[str], seconds: Sequence[float]
) -> dict[str, Guidance]:
    """For each of these marks, of `guided_marks`, what is suggested for it in the pictures gone through.

    seconds: the real time of each picture of the film.
    """
    learnt = learnt_for(view)
    if learnt is None:
        return {}
    guides: dict[str, dict[int, Guide]] = {mark: {} for mark in marks}
    for one in found:
        for mark in marks:
            if (guide := one.guide(mark)) is not None:
                guides[mark][one.frame] = guide
    return {mark: Guidance(its, learnt.paths[part_of(mark)], seconds) for mark, its in guides.items()}


def guided(
    mark: str,
    hand: Mapping[int, Point],
    guidance: Guidance,
    scale: float,
    carried: Iterable[Observation] = (),
) -> dict[int, Observation | str]:
    """By frame the mark's row, or why what is seen of the body is not sure enough there.

    scale: the picture's shorter side over 720 px. carried: where pixels carried the mark.
    """
    rows: dict[int, Observation | str] = {}
    for frame, found in corrected(hand, guidance, carried).items():
        origin = min(hand, key=lambda click, at=frame: (abs(click - at), click))  # type: ignore[misc]
        row = Observation(mark, frame, *found.point, found.u, tracked=True, origin=origin)
        sure = found.u <= UNSURE * scale
        rows[frame] = row if sure else f"what is seen of the body leaves {found.u:.1f} px in doubt"
    return rows


def corrected(
    hand: Mapping[int, Point], guidance: Guidance, carried: Iterable[Observation] = ()
) -> dict[int, Corrected]:
    """The places between the clicks of `hand`, by frame, where the body was seen there and at both clicks.

    carried: where pixels carried the mark, with their u.
    """
    guides, path = guidance.guides, _smoothed(guidance.guides, guidance.seconds)
    good = {click: point for click, point in sorted(hand.items()) if _borne_out(click, point, path, guides)}
    spans = [(early, late) for early, late in pairwise(sorted(hand)) if early in good and late in good]
    frames = sorted(path)
    asked = {frame for frame in frames if any(early < frame < late for early, late in spans)}
    if not asked:
        return {}
    seconds = np.array([guidance.seconds[frame] for frame in frames])
    side = float(np.median([guides[frame].side for frame in frames]))
    bodies = np.array([guides[frame].body for frame in frames]).reshape(len(frames), -1, 2)
    known = _known(path, seconds, good, [row for row in carried if row.frame in asked])
    offsets, u = foretold(unlike(seconds, bodies, side), known, guidance.learnt.size, side)
    return {
        frame: Corrected((path[frame][0] + float(x), path[frame][1] + float(y)), float(one))
        for frame, (x, y), one in zip(frames, offsets, u, strict=True)
        if frame in asked
    }


def _borne_out(click: int, point: Point, path: Mapping[int, Point], guides: Mapping[int, Guide]) -> bool:
    """Whether the body was seen at the click, and near it."""
    return click in path and math.dist(point, path[click]) <= CONTRADICTED * guides[click].u


def _known(
    path: Mapping[int, Point], seconds: Floats, clicks: Mapping[int, Point], carried: Sequence[Observation]
) -> Known:
    """What is known of the offsets from clicks, by frame, and from places that pixels carried.

    seconds: of the pictures of the path, ascending.
    """
    places = [*clicks.items(), *((row.frame, (row.x, row.y)) for row in carried)]
    at = np.searchsorted(sorted(path), [frame for frame, _ in places])
    off = np.array([np.subtract(point, path[frame]) for frame, point in places])
    error = covariance(seconds[at], [CLICKED] * len(clicks), [row.u or 0.0 for row in carried])
    return Known(at, off, error)


def _smoothed(guides: Mapping[int, Guide], seconds: Sequence[float]) -> dict[int, Point]:
    """By frame, where the line through the neighbours has the mark; none where there are too few of them."""
    frames = np.array(sorted(guides), dtype=np.int64)
    if not len(frames):
        return {}
    times = np.array([seconds[frame] for frame in frames])
    places = np.array([guides[frame].point for frame in frames])
    sure = np.array([guides[frame].u for frame in frames]) ** -2.0
    path: dict[int, Point] = {}
    for frame, time in zip(frames.tolist(), times, strict=True):
        away = times - time
        near = (np.abs(away) <= REACH) | (np.abs(frames - frame) <= NEAR)
        if near.sum() >= ENOUGH:
            path[frame] = _on_line(away[near], places[near], sure[near])
    return path


def _on_line(away: Floats, places: Floats, sure: Floats) -> Point:
    """Where the best line is at 0. away: seconds of each place."""
    columns = np.column_stack([np.ones_like(away), away / REACH])
    nearness = (1 - np.abs(away) / (EDGE * max(REACH, float(np.abs(away).max())))) * sure
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
