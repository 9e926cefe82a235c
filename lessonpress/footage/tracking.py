"""A mark carried from where it was placed by hand over the pictures between.

From each hand-placed frame the point is carried forward to the next and backward to the one before. Pyramidal
Lucas–Kanade says where it went from one picture to the next; there the patch round the hand-placed mark,
turned and stretched as it was last seen, is found to a fraction of a pixel. As long as that patch is
recognised, errors do not add up; where it is not, the last picture's patch takes its place and the error of
that picture stays. Between two hand-placed frames the two runs are blended by distance, so that each meets
its own end; a run with one end is carried back to its start, and what it misses by goes into its errors. A
run stops where the point can no longer be followed, and says why; nothing is filled in.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.flow import carried
from lessonpress.footage.patch import Linear, Patch, cut, find
from lessonpress.footage.reel import Reel
from lessonpress.records.mark import Sighting

Point = tuple[float, float]

SIDE = 25  # px of the patch, for a picture 720 px high; in proportion for others
LEVELS = 4
RETURNS = 1.5  # px that a point may miss its start when carried back
RECOGNISED = 0.92  # correlation with the hand-placed patch
ALIKE = 0.8  # correlation from picture to picture
TOGETHER = 3.0  # px by which the patch may be found from where the point was carried
FAINT = 0.4  # of the hand-placed patch's grip: blurred so far that its place is drawn along
PLAIN = 400.0  # least grip for a start, grey levels²
LOPSIDED = 0.002  # least to most grip: an edge without a corner
SLIDES = 1.0  # px per axis
STRAYS = 3.0  # px per axis, of drift
SMEAR = 0.05  # patch sides by which a point is drawn along as all grip is lost: found on drawn clips
FLOOR = 0.04  # px per axis, of reading between pixels: found on drawn clips


@dataclass(frozen=True)
class Gap:
    """Frames, first to last, over which a mark could not be followed, and why."""

    first: int
    last: int
    reason: str


@dataclass(frozen=True)
class Track:
    """rows: sightings with tracked=True, by frame, none on a hand-placed one. gaps: where there are none."""

    rows: tuple[Sighting, ...]
    gaps: tuple[Gap, ...]

    @property
    def lost(self) -> str | None:
        """Where the mark was lost and why, in words; None where every frame asked for has its place."""
        return "; ".join(_told(gap) for gap in self.gaps) or None


@dataclass(frozen=True)
class _Step:
    """The point in one picture. own: u of this picture's match, px per axis; drift: u gathered on the way."""

    point: Point
    own: float
    drift: float

    @property
    def u(self) -> float:
        return math.hypot(self.own, self.drift)


@dataclass(frozen=True)
class _Run:
    """A mark carried one way from a hand-placed frame. reason: why it ended early, "" if it did not."""

    steps: dict[int, _Step]
    reason: str


def track(
    pictures: Iterable[tuple[int, NDArray[np.uint8]]],
    mark: str,
    hand: Mapping[int, Point],
    first: int,
    last: int,
) -> Track:
    """Carry `mark` over frames `first` to `last` of pictures (frame, RGB (h, w, 3)), ascending.

    hand: its places (x, y) in px by frame, by hand; those outside first..last, or without a picture, are left
    out. Each row's u is the standard uncertainty per axis in px of the carrying alone: the click's error at
    `origin`, the nearer hand-placed frame, comes on top and is the same for all rows of that origin.
    """
    with Reel((frame, picture) for frame, picture in pictures if first <= frame <= last) as reel:
        frames = reel.frames
        placed = [frame for frame in sorted(hand) if frame in reel]
        if not placed:
            return Track((), (Gap(first, last, "it is placed by hand on none of these frames"),))
        rows: list[Sighting] = []
        gaps: list[Gap] = []
        for early, late in pairwise([None, *placed, None]):
            span = _between(frames, early, late)
            if span:
                found, missing = _carry(reel, mark, hand, early, late, span)
                rows.extend(found)
                gaps.extend(missing)
    return Track(tuple(rows), tuple(gaps))


def _between(frames: tuple[int, ...], early: int | None, late: int | None) -> list[int]:
    return [frame for frame in frames if (early is None or frame > early) and (late is None or frame < late)]


def _carry(
    reel: Reel, mark: str, hand: Mapping[int, Point], early: int | None, late: int | None, span: list[int]
) -> tuple[list[Sighting], list[Gap]]:
    """The rows and gaps strictly between two hand-placed frames, or before the first, or past the last."""
    onward = _run(reel, early, hand[early], span) if early is not None else None
    backward = _run(reel, late, hand[late], span[::-1]) if late is not None else None
    if onward and not (backward and len(backward.steps) == len(span)):
        onward = _returned(reel, onward)
    if backward and not (onward and len(onward.steps) == len(span)):
        backward = _returned(reel, backward)
    rows, missing = [], []
    for frame in span:
        row = _row(mark, frame, early, late, onward, backward)
        if row is None:
            missing.append(frame)
        else:
            rows.append(row)
    reason = _reason(onward) or _reason(backward)
    return rows, [Gap(group[0], group[-1], reason) for group in _groups(missing, span)]


def _row(
    mark: str, frame: int, early: int | None, late: int | None, onward: _Run | None, backward: _Run | None
) -> Sighting | None:
    ahead = onward.steps.get(frame) if onward else None
    behind = backward.steps.get(frame) if backward else None
    if ahead and behind and early is not None and late is not None:
        share = (frame - early) / (late - early)
        (x, y), u = _blended(ahead, behind, share)
        return Sighting(mark, frame, x, y, u, tracked=True, origin=early if share < 0.5 else late)
    if ahead:
        return Sighting(mark, frame, *ahead.point, ahead.u, tracked=True, origin=early)
    if behind:
        return Sighting(mark, frame, *behind.point, behind.u, tracked=True, origin=late)
    return None


def _blended(ahead: _Step, behind: _Step, share: float) -> tuple[Point, float]:
    """Straight in time between two runs, and its u.

    What the runs differ by is drift, and the two clicks' errors; the nearer click's is common to its rows and
    stays out, so the smaller share of the difference goes into u. Both read the same picture: `own` counts
    once.
    """
    (ax, ay), (bx, by) = ahead.point, behind.point
    point = (ax + share * (bx - ax), ay + share * (by - ay))
    drift = math.hypot((1 - share) * ahead.drift, share * behind.drift)
    parted = min(share, 1 - share) * math.hypot(bx - ax, by - ay) / math.sqrt(2)
    return point, math.hypot(max(ahead.own, behind.own), drift, parted)


@dataclass(frozen=True)
class _Hold:
    """A patch to be found again: how it lay when last seen, and the drift gathered when it was cut."""

    patch: Patch
    linear: Linear
    drift: float


@dataclass(frozen=True)
class _State:
    """Where a run stands: the last picture, the point in it, its pace in px a picture, what is held on to."""

    grey: NDArray[np.uint8]
    step: _Step
    pace: Point
    origin: _Hold
    latest: _Hold


def _run(reel: Reel, start: int, point: Point, frames: list[int]) -> _Run:
    """Carry the mark from its place at frame `start` over `frames`, in their order, as far as it goes."""
    grey, side = reel[start], _side(reel.shape)
    square = cut(grey, point, side)
    if square is None:
        return _Run({}, f"it stands too near the picture's edge at frame {start}")
    if square.least < PLAIN or square.least < LOPSIDED * square.most:
        return _Run({}, f"there is nothing to hold on to where it stands at frame {start}")
    hold = _Hold(square, np.eye(2), 0.0)
    state = _State(grey, _Step(point, 0.0, 0.0), (0.0, 0.0), hold, hold)
    steps: dict[int, _Step] = {}
    for frame in frames:
        onward = _onward(state, reel[frame], side)
        if isinstance(onward, str):
            return _Run(steps, onward)
        steps[frame], state = onward.step, onward
    return _Run(steps, "")


def _returned(reel: Reel, run: _Run) -> _Run:
    """The run with what it misses by, carried back from its end, shared out over its way as drift."""
    frames = list(run.steps)
    if len(frames) < 2:
        return run
    end = frames[-1]
    back = _run(reel, end, run.steps[end].point, frames[-2::-1])
    if not back.steps:
        return run
    furthest = list(back.steps)[-1]
    missed = math.dist(back.steps[furthest].point, run.steps[furthest].point) / math.sqrt(2)
    pace = missed / max(abs(end - furthest), len(frames) / 2)
    steps: dict[int, _Step] = {}
    for number, (frame, step) in enumerate(run.steps.items(), 1):
        drift = math.hypot(step.drift, pace * number)
        if drift > STRAYS * _side(reel.shape) / SIDE:
            return _Run(steps, f"carried back from frame {end}, it misses its way by {missed:.1f} px")
        steps[frame] = _Step(step.point, step.own, drift)
    return _Run(steps, run.reason)


def _onward(state: _State, now: NDArray[np.uint8], side: int) -> _State | str:
    """The next state, or why the point cannot be followed into the next picture."""
    at, pace = state.step.point, state.pace
    near = _near(state.grey, now, at, [(at[0] + pace[0], at[1] + pace[1]), at], side)
    if near is None:
        return "it cannot be followed: too fast, blurred or covered"
    if not _inside(near, now.shape):
        return "it leaves the picture"
    for hold, least in _holds(state, side):
        moved = _moved(hold, now, near, least, side, FAINT * state.origin.patch.least)
        if moved is not None:
            return _arrived(state, now, hold, *moved)
    return "it is no longer like itself: blurred, covered or turned away"


def _holds(state: _State, side: int) -> Iterator[tuple[_Hold, float]]:
    """What to look for, best first, and how like it has to be; a new hold keeps the error it is cut with."""
    yield state.origin, RECOGNISED
    if state.latest is not state.origin:
        yield state.latest, RECOGNISED
    square = cut(state.grey, state.step.point, side)
    if square is not None:
        yield _Hold(square, np.eye(2), state.step.u), ALIKE


def _arrived(state: _State, now: NDArray[np.uint8], hold: _Hold, step: _Step, found: _Hold) -> _State | str:
    if step.own > SLIDES:
        return "it lies on an edge along which it could slide"
    at = state.step.point
    turn = found.linear @ np.linalg.inv(hold.linear)
    origin = found if hold is state.origin else _Hold(state.origin.patch, turn @ state.origin.linear, 0.0)
    return _State(now, step, (step.point[0] - at[0], step.point[1] - at[1]), origin, found)


def _near(
    before: NDArray[np.uint8], now: NDArray[np.uint8], at: Point, guesses: list[Point], side: int
) -> Point | None:
    """Where the point went, by the beginning that returns best; None where none returns."""
    start = np.array([at] * len(guesses))
    places, misses = carried(before, now, start, np.array(guesses), window=side, levels=LEVELS)
    best = int(np.argmin(misses))
    return None if misses[best] > RETURNS else (float(places[best, 0]), float(places[best, 1]))


def _moved(
    hold: _Hold, now: NDArray[np.uint8], near: Point, least: float, side: int, grip: float
) -> tuple[_Step, _Hold] | None:
    """The step to where a hold's patch is found near a point, and the hold as it lies there.

    least: correlation, and grip: hold on the picture (`Patch.least`), that it must have there.
    """
    found = find(hold.patch, now, near, hold.linear)
    if found is None or found.likeness < least or math.dist(found.point, near) > TOGETHER * side / SIDE:
        return None
    here = cut(now, found.point, side)
    if here is None or here.least < grip:
        return None
    smear = SMEAR * side * max(0.0, 1 - here.least / grip * FAINT)
    step = _Step(found.point, math.hypot(found.u, FLOOR, smear), hold.drift)
    return step, _Hold(hold.patch, found.linear, hold.drift)


def _side(shape: tuple[int, int]) -> int:
    """Side of the patch in px, odd, in proportion to the picture's shorter side."""
    return max(11, round(SIDE * min(shape) / 720) | 1)


def _inside(point: Point, shape: tuple[int, ...]) -> bool:
    return 0 <= point[0] <= shape[1] and 0 <= point[1] <= shape[0]


def _reason(run: _Run | None) -> str:
    return run.reason if run is not None else ""


def _groups(missing: list[int], span: list[int]) -> Iterator[list[int]]:
    """Missing frames as runs of frames that follow each other in `span`."""
    group: list[int] = []
    place = {frame: number for number, frame in enumerate(span)}
    for frame in missing:
        if group and place[frame] != place[group[-1]] + 1:
            yield group
            group = []
        group.append(frame)
    if group:
        yield group


def _told(gap: Gap) -> str:
    where = f"frame {gap.first}" if gap.first == gap.last else f"frames {gap.first} to {gap.last}"
    return f"{where}: {gap.reason}"
