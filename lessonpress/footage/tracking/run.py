"""One tracking run: a mark carried in one direction from a frame where it was placed by hand.

Pyramidal Lucas–Kanade says where the point went from one picture to the next; there the patch round the
hand-placed mark, turned and stretched as it was last seen, is found to a fraction of a pixel. As long as that
patch is recognised, errors do not add up; where it is not, the last picture's patch takes its place and the
error of that picture stays. A run stops where the point can no longer be followed, and says why.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.flow import carried
from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.footage.tracking.patch import Linear, Patch, cut, find
from lessonpress.footage.tracking.room import belongs_to_room
from lessonpress.records import Point

SIDE = 25  # px of the patch, for a picture 720 px high; in proportion for others
LEVELS = 4
RETURNS = 1.5  # px that a point may miss its start when carried back
RECOGNISED = 0.92  # correlation with the hand-placed patch
ALIKE = 0.8  # correlation from picture to picture
TOGETHER = 3.0  # px by which the patch may be found from where the point was carried
FAINT = 0.4  # of the hand-placed patch's grip: blurred so far that its point is drawn along
PLAIN = 400.0  # least grip for a start, grey levels²
LOPSIDED = 0.002  # least to most grip: an edge without a corner
SLIDES = 1.0  # px per axis
SMEAR = 0.05  # patch sides by which a point is drawn along as all grip is lost: found on drawn clips
CHANGED = 0.02  # patch sides of drift where the last picture has to serve in the hand-placed one's stead
FLOOR = 0.04  # px per axis, of reading between pixels: found on drawn clips


@dataclass(frozen=True)
class Step:
    """The point in one picture. own: u of this picture's match, px per axis; drift: u gathered on the way;
    path: px gone since the start; likeness: correlation with what was held on to.
    """

    point: Point
    own: float
    drift: float
    path: float = 0.0
    likeness: float = 1.0

    @property
    def u(self) -> float:
        return math.hypot(self.own, self.drift)


@dataclass(frozen=True)
class Run:
    """A mark carried one way from `start`. steps: by frame, in the run's order, without the start. reason:
    why it ended early, "" if it did not.
    """

    start: int
    steps: dict[int, Step]
    reason: str


@dataclass(frozen=True)
class _Hold:
    """A patch to be found again: how it lay when last seen, and the drift gathered when it was cut."""

    patch: Patch
    linear: Linear
    drift: float


@dataclass(frozen=True)
class _State:
    """Where a run is: the last picture, the point in it, its pace in px a picture, what is held on to."""

    grey: NDArray[np.uint8]
    step: Step
    pace: Point
    origin: _Hold
    latest: _Hold


def run_from(store: FrameStore, start: int, hand: Mapping[int, Point], frames: Sequence[int]) -> Run:
    """Carry the mark from its point at frame `start` over `frames`, in their order, as far as it goes.

    hand: all the mark's points by hand, by frame: what is still while they move is the room. A run that
    ends there has let go of the mark no one knows when, so that none of it is kept.
    """
    grey, side, point = store[start], side_of(store.shape), hand[start]
    square = cut(grey, point, side)
    if square is None:
        return Run(start, {}, "it is too near the picture's edge")
    if square.least < PLAIN or square.least < LOPSIDED * square.most:
        return Run(start, {}, "there is nothing to follow where it is")
    hold = _Hold(square, np.eye(2), 0.0)
    state = _State(grey, Step(point, 0.0, 0.0), (0.0, 0.0), hold, hold)
    steps: dict[int, Step] = {}
    for frame in frames:
        now = store[frame]
        onward = _onward(state, now, side)
        if not isinstance(onward, str) and _in_the_room(store, now, onward.step, hand, side):
            return Run(
                start, {}, f"at frame {frame} the room holds it: the same is seen there without the mark"
            )
        if isinstance(onward, str):
            return Run(start, steps, onward)
        steps[frame], state = onward.step, onward
    return Run(start, steps, "")


def _in_the_room(
    store: FrameStore, now: NDArray[np.uint8], step: Step, hand: Mapping[int, Point], side: int
) -> bool:
    return belongs_to_room(store, now, step.point, step.likeness, hand, side)


def there_and_back(store: FrameStore, run: Run, hand: Mapping[int, Point]) -> Run:
    """The run with what it misses by, carried back from its end, shared out over its path as drift."""
    frames = list(run.steps)
    if len(frames) < 2:
        return run
    end = frames[-1]
    back = run_from(store, end, {**hand, end: run.steps[end].point}, frames[-2::-1])
    if not back.steps:
        return run
    furthest = list(back.steps)[-1]
    missed = math.dist(back.steps[furthest].point, run.steps[furthest].point) / math.sqrt(2)
    pace = missed / max(abs(end - furthest), len(frames) / 2)
    steps = {
        frame: replace(step, drift=math.hypot(step.drift, pace * number))
        for number, (frame, step) in enumerate(run.steps.items(), 1)
    }
    return replace(run, steps=steps)


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
        yield _Hold(square, np.eye(2), math.hypot(state.step.u, CHANGED * side)), ALIKE


def _arrived(state: _State, now: NDArray[np.uint8], hold: _Hold, step: Step, held_now: _Hold) -> _State | str:
    if step.own > SLIDES:
        return "it lies on an edge along which it could slide"
    at = state.step.point
    turn = held_now.linear @ np.linalg.inv(hold.linear)
    origin = held_now if hold is state.origin else _Hold(state.origin.patch, turn @ state.origin.linear, 0.0)
    step = replace(step, path=state.step.path + math.dist(at, step.point))
    return _State(now, step, (step.point[0] - at[0], step.point[1] - at[1]), origin, held_now)


def _near(
    before: NDArray[np.uint8], now: NDArray[np.uint8], at: Point, guesses: list[Point], side: int
) -> Point | None:
    """Where the point went, by the beginning that returns best; None where none returns."""
    start = np.array([at] * len(guesses))
    points, misses = carried(before, now, start, np.array(guesses), window=side, levels=LEVELS)
    best = int(np.argmin(misses))
    return None if misses[best] > RETURNS else (float(points[best, 0]), float(points[best, 1]))


def _moved(
    hold: _Hold, now: NDArray[np.uint8], near: Point, least: float, side: int, grip: float
) -> tuple[Step, _Hold] | None:
    """The step to where a hold's patch is found near a point, and the hold as it lies there.

    least: correlation, and grip: hold on the picture (`Patch.least`), that it must have there.
    """
    match = find(hold.patch, now, near, hold.linear)
    if match is None or match.likeness < least or math.dist(match.point, near) > TOGETHER * side / SIDE:
        return None
    here = cut(now, match.point, side)
    if here is None or here.least < grip:
        return None
    smear = SMEAR * side * max(0.0, 1 - here.least / grip * FAINT)
    own = math.hypot(match.u, FLOOR, smear)
    step = Step(match.point, own, hold.drift, likeness=match.likeness)
    return step, _Hold(hold.patch, match.linear, hold.drift)


def side_of(shape: tuple[int, int]) -> int:
    """Side of the patch in px, odd, in proportion to the picture's shorter side."""
    return max(11, round(SIDE * min(shape) / 720) | 1)


def _inside(point: Point, shape: tuple[int, ...]) -> bool:
    return 0 <= point[0] <= shape[1] and 0 <= point[1] <= shape[0]
