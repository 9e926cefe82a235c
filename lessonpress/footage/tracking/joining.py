"""Two runs towards each other joined into one track, and how far each is believed.

A run that reaches the next hand-placed frame is checked there: by little, and what it misses is shared out
over its path; by much, and it followed something else. One that does not reach it counts only as far as its
drift stays small. Where two runs reach the same picture they have to agree, or neither is believed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile

from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.footage.tracking.run import SIDE, Run, Step, run_from, side_of, there_and_back
from lessonpress.footage.tracking.slide import closed, missed, open_ended
from lessonpress.records import Observation, Point

STRAYS = 3.0  # px per axis, of drift, for a picture 720 px high: no more is given
ELSEWHERE = 12.0  # px by which a run may miss the next click, for a picture 720 px high
AGREE = 3.0  # times the uncertainty of their difference, by which two runs may part
CLICKED = 1.5  # px, standard uncertainty of a click per axis: two runs part by that much and are sound


@dataclass(frozen=True)
class Carried:
    """rows: a mark's observations between two hand-placed frames. why: by frame, why there is none."""

    rows: tuple[Observation, ...]
    why: Mapping[int, str]


@dataclass(frozen=True)
class _Vouched:
    """What of a run is believed. reason: why there is no more; checked: the other click confirms it."""

    start: int
    steps: dict[int, Step]
    reason: str
    checked: bool = False


def carry_between(
    store: FrameStore,
    mark: str,
    hand: Mapping[int, Point],
    early: int | None,
    late: int | None,
    span: Sequence[int],
) -> Carried:
    """Carry the mark over the frames `span` between two hand-placed ones, before the first or past the last.

    hand: the mark's points by frame, all of frames of the store.
    """
    runs = _runs(store, mark, hand, early, late, span)
    parted = _parted(runs, span)
    rows: list[Observation] = []
    why: dict[int, str] = {}
    for frame in span:
        here = [one for one in runs if frame in one.steps]
        here = [one for one in here if one.checked] or here
        if frame in parted:
            why[frame] = parted[frame]
        elif not here:
            why[frame] = _reasons(runs, early)
        else:
            rows.append(_row(mark, frame, early, late, here))
    return Carried(tuple(rows), why)


def _runs(
    store: FrameStore,
    mark: str,
    hand: Mapping[int, Point],
    early: int | None,
    late: int | None,
    span: Sequence[int],
) -> list[_Vouched]:
    """What is believed of the run from each hand-placed end."""
    ways = ((early, late, span), (late, early, span[::-1]))
    return [
        _vouched(store, mark, hand, run_from(store, start, hand, [*frames, *_only(end)]), end)
        for start, end, frames in ways
        if start is not None
    ]


def _only(end: int | None) -> list[int]:
    return [] if end is None else [end]


def _vouched(store: FrameStore, mark: str, hand: Mapping[int, Point], run: Run, end: int | None) -> _Vouched:
    scale = side_of(store.shape) / SIDE
    if end is None or (miss := missed(run, hand, end)) is None:
        return _as_far_as_sure(store, mark, hand, run, end, STRAYS * scale)
    off = math.hypot(*miss)
    if off > ELSEWHERE * scale:
        return _Vouched(run.start, {}, f"it comes to frame {end} {off:.0f} px from the mark there")
    steps = closed(run, mark, end, miss, scale)
    sure = {frame: step for frame, step in steps.items() if step.drift <= STRAYS * scale}
    return _Vouched(run.start, sure, f"it misses the mark at frame {end} by {off:.1f} px", checked=True)


def _as_far_as_sure(
    store: FrameStore, mark: str, hand: Mapping[int, Point], run: Run, end: int | None, most: float
) -> _Vouched:
    toward = None if end is None else (end, math.dist(hand[end], hand[run.start]))
    steps = open_ended(there_and_back(store, run, hand), mark, toward)
    sure = dict(takewhile(lambda item: item[1].drift <= most, steps.items()))
    if len(sure) == len(steps):
        return _Vouched(run.start, sure, run.reason)
    further = f" (further on {run.reason})" if run.reason else ""
    return _Vouched(run.start, sure, f"it may have slid off its point by over {most:.1f} px{further}")


def _parted(runs: list[_Vouched], span: Sequence[int]) -> dict[int, str]:
    """Frames over which two runs contradict each other, with those between them, and by how much."""
    if len(runs) < 2:
        return {}
    one, other = (run.steps for run in runs)
    gaps = {
        frame: math.dist(one[frame].point, other[frame].point)
        for frame in span
        if frame in one and frame in other and not _agree(one[frame], other[frame])
    }
    if not gaps:
        return {}
    reason = f"the two ways of carrying it part by {max(gaps.values()):.1f} px"
    return {frame: reason for frame in span if min(gaps) <= frame <= max(gaps)}


def _agree(one: Step, other: Step) -> bool:
    return math.dist(one.point, other.point) <= AGREE * math.hypot(one.u, other.u, CLICKED)


def _row(mark: str, frame: int, early: int | None, late: int | None, here: list[_Vouched]) -> Observation:
    """The mark's observation where a run or both vouch for it. The nearer hand-placed frame is its origin."""
    steps = [one.steps[frame] for one in here]
    if early is None or late is None or not (len(here) == 2 or here[0].checked):
        origin, part = here[0].start, 0.0
    else:
        part = (frame - early) / (late - early)
        origin = early if part < 0.5 else late
    (x, y), u = _blended(steps[0], steps[-1], part)
    return Observation(mark, frame, x, y, u, tracked=True, origin=origin)


def _blended(ahead: Step, behind: Step, part: float) -> tuple[Point, float]:
    """Straight in time between two runs, and its u.

    Both read the same picture and lean on the same clicks: neither `own` nor drift shrinks by the mean. The
    smaller share of what they differ by goes into u.
    """
    (ax, ay), (bx, by) = ahead.point, behind.point
    point = (ax + part * (bx - ax), ay + part * (by - ay))
    drift = (1 - part) * ahead.drift + part * behind.drift
    differ = min(part, 1 - part) * math.hypot(bx - ax, by - ay) / math.sqrt(2)
    return point, math.hypot(max(ahead.own, behind.own), drift, differ)


def _reasons(runs: list[_Vouched], early: int | None) -> str:
    reasons = [
        f"{'onward' if run.start == early else 'back'} from frame {run.start}, {run.reason}" for run in runs
    ]
    return "; ".join(reasons)
