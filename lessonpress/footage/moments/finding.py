"""The moments of a swing, each with a ± of pictures.

The hands' way over the hips says where in the film the swing is: they rise over the shoulders, fall under the
hips in half a second and rise again. In that stretch the moments are

| moment | where |
|---|---|
| setup | the last picture at rest before the hands rise |
| start | the picture after it |
| halfway | where the lead arm comes level on the way up |
| top | where least changes about the hands' highest place |
| delivery | on the way down, the lead arm past level and the club not yet |
| impact | the last picture with the ball at its place; without a ball, where the hands are lowest |
| finish | the first picture at rest after that |

Without a network only how much changes is known (`camera.difference`), and the ± is that of it. Each ± is in
seconds that were learnt: 95 of 100 moments of the studio's films lay within (`python -m tests.suggesting`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.camera.difference import Change, proposed_events

Floats = NDArray[np.float64]

OVER, UNDER = 0.9, 0.3  # heights that the hands are over at the top, and under at impact
DOWN, THROUGH = 0.9, 0.6  # s at the most from over the one to under the other, and from there to over it
LEVEL, LATE = 0.7, 0.35  # heights of the hands with the lead arm level, and at delivery
LIVELY = 90  # percentile of changes a second
QUIET = 0.05  # of that: at rest
REST = 2  # pictures at rest that are a rest
BALL = 0.15  # s that the ball may leave before or after the hands are lowest
# ± s of each moment; of impact by the hands alone, by the ball half a picture either way
WITHIN = {
    "start": 0.04,
    "setup": 0.04,
    "halfway": 0.08,
    "top": 0.06,
    "delivery": 0.04,
    "finish": 0.06,
    "impact": 0.05,
}
BY_CHANGE = {"setup": 0.04, "top": 0.1, "impact": 0.12, "finish": 0.08}


@dataclass(frozen=True)
class Moment:
    """within: pictures either way, by the longer of the two ways in which they follow one another."""

    frame: int
    within: int


@dataclass(frozen=True)
class _WayDown:
    """Pictures: the first and the last with the hands over the shoulders, and that with the lowest after."""

    over: int
    falls: int
    low: int


def moments(
    seconds: Floats, changes: Sequence[Change], high: Floats | None, ball: int | None = None
) -> dict[str, Moment]:
    """The moments found, in their order. seconds: real ones of each picture. high: of the hands, None where
    no body is seen. ball: the last picture with the ball at its place, if that is known.

    There are none where two swings are seen, since nothing says which is meant.
    """
    if high is None:
        return _by_change(seconds, changes)
    ways_down = _ways_down(seconds, _steadied(high))
    if len(ways_down) != 1:
        return {}
    (way,) = ways_down
    found = _of_hands(seconds, _steadied(high), way, _motion(seconds, changes))
    if ball is not None and abs(seconds[ball] - seconds[way.low]) <= BALL:
        found["impact"] = Moment(ball, 1)
    return dict(sorted(found.items(), key=lambda one: one[1].frame))


def lowest_hands(seconds: Floats, high: Floats) -> list[tuple[int, int]]:
    """Of each swing seen the first picture with the hands over the shoulders, and that with them lowest."""
    return [(way.over, way.low) for way in _ways_down(seconds, _steadied(high))]


def _by_change(seconds: Floats, changes: Sequence[Change]) -> dict[str, Moment]:
    found = proposed_events(changes)
    return {name: _moment(frame, BY_CHANGE[name], seconds) for name, frame in found.items()}


def _moment(frame: int, within: float, seconds: Floats) -> Moment:
    """within: s."""
    before = frame - int(np.searchsorted(seconds, seconds[frame] - within))
    after = int(np.searchsorted(seconds, seconds[frame] + within, side="right")) - 1 - frame
    return Moment(frame, max(1, before, after))


def _ways_down(seconds: Floats, high: Floats) -> list[_WayDown]:
    """Each way from over the shoulders to under the hips and, where the film goes on, up again."""
    found = []
    stays = _stays(high)
    for number, (first, last) in enumerate(stays):
        before = stays[number - 1][1] + 1 if number else 0
        after = stays[number + 1][0] if number + 1 < len(stays) else len(high)
        over = before + np.flatnonzero(high[before:first] > OVER)
        again = last + 1 + np.flatnonzero(high[last + 1 : after] > OVER)
        fell = len(over) > 0 and seconds[first] - seconds[over[-1]] <= DOWN
        ended = seconds[-1] - seconds[last] < THROUGH / 2
        rose = len(again) > 0 and seconds[again[0]] - seconds[first] <= THROUGH
        if fell and (rose or ended):
            low = first + int(np.argmin(high[first : last + 1]))
            found.append(_WayDown(int(over[0]), int(over[-1]), low))
    return found


def _stays(high: Floats) -> list[tuple[int, int]]:
    """First and last picture of each stay under the hips: until the hands are over the shoulders."""
    stays: list[tuple[int, int]] = []
    for first, last in _runs(high < UNDER):
        if stays and not (high[stays[-1][1] : first] > OVER).any():
            stays[-1] = stays[-1][0], last
        else:
            stays.append((first, last))
    return stays


def _of_hands(seconds: Floats, high: Floats, way: _WayDown, motion: Floats) -> dict[str, Moment]:
    quiet = motion < QUIET * np.percentile(motion, LIVELY)
    top = way.over + int(np.argmin(motion[way.over : way.falls + 1]))
    names: dict[str, int | None] = {
        "top": top,
        "delivery": _first(high[way.falls : way.low] < LATE, way.falls),
        "impact": way.low,
        "finish": _rest_after(quiet, way.low),
    }
    setup = _rest_before(quiet, way.over)
    if setup is not None:
        names |= {"setup": setup, "start": setup + 1, "halfway": _first(high[setup:top] > LEVEL, setup)}
    return {name: _moment(at, WITHIN[name], seconds) for name, at in names.items() if at is not None}


def _motion(seconds: Floats, changes: Sequence[Change]) -> Floats:
    """(n,): how much each picture differs from the one before, a second, above the least, which is noise."""
    each = np.zeros(len(seconds))
    for one in changes:
        each[one.frame] = one.mean
    each[0] = each[1] if len(each) > 1 else 0.0
    rate = (each - each[1:].min(initial=np.inf)) / np.gradient(seconds)
    return np.asarray(rate)


def _runs(wanted: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First and last picture of each run of True."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], wanted, [False]]).astype(np.int8)))
    return [(int(first), int(last) - 1) for first, last in edges.reshape(-1, 2)]


def _first(wanted: NDArray[np.bool_], begins: int) -> int | None:
    at = np.flatnonzero(wanted)
    return begins + int(at[0]) if len(at) else None


def _rest_before(quiet: NDArray[np.bool_], before: int) -> int | None:
    """The end of the last rest before a picture."""
    rests = [last for first, last in _runs(quiet[:before]) if last - first + 1 >= REST]
    return rests[-1] if rests else None


def _rest_after(quiet: NDArray[np.bool_], after: int) -> int | None:
    """The beginning of the first rest after a picture: the next ones do not differ from it."""
    rests = [first for first, last in _runs(quiet[after:]) if last - first + 1 >= REST]
    return after + rests[0] - 1 if rests and rests[0] else None


def _steadied(high: Floats) -> Floats:
    """The middle one of three, so that one picture in which hands are seen elsewhere says nothing."""
    wide = np.pad(high, 1, mode="edge")
    return np.asarray(np.median([wide[:-2], high, wide[2:]], axis=0))
