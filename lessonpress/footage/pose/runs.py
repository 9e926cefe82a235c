"""What cannot be, seen by the pictures before and after: such marks are not suggested either.

Where lead and trail lie on each other's line through the neighbouring pictures, they have changed places; and
a limb of the same body does not grow. Only pictures that follow one another say so: those of single events
have no neighbours. That a place lies far from its own line is no reason: on the studio's films 32 of 33 such
were right, hands that turn quickly.

| what | by |
|---|---|
| lead and trail have changed places | each is nearer to the other's line, `NEARER` times |
| a limb is longer than in the others | `LONGER` times its length in most of them, and `SURE` u more |
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from lessonpress.footage.pose.suggesting import Suggestion
from lessonpress.records import PAIRED, Observation, Point

REACH = 3  # pictures before and after that a line is laid through
ENOUGH = 4  # places through which it is laid
NEARER = 3.0
SURE = 3.0
LONGER, MOST = 1.15, 90  # percentile of a limb's lengths that most of them do not exceed
LIMBS = (("hip", "knee"), ("knee", "ankle"), ("heel", "toe"), ("shoulder", "elbow"), ("elbow", "wrist"))
SWAPPED = "lead and trail change places from picture to picture"
TOO_LONG = "it is farther from the {other} than in the other pictures"

Places = Mapping[int, Observation]


def without_swaps(found: Iterable[Suggestion]) -> list[Suggestion]:
    """The same suggestions, less the marks that the neighbouring pictures contradict."""
    every = sorted(found, key=lambda one: one.frame)
    by_mark: dict[str, dict[int, Observation]] = {}
    for one in every:
        for row in one.rows:
            by_mark.setdefault(row.mark, {})[row.frame] = row
    why: dict[tuple[str, int], str] = {}
    for side in ("lead", "trail"):
        for near, far in LIMBS:
            ends = f"{side}-{near}", f"{side}-{far}"
            for frame in _too_long(*(by_mark.get(end, {}) for end in ends)):
                for end, other in (ends, ends[::-1]):
                    why.setdefault((end, frame), TOO_LONG.format(other=other))
    for part in PAIRED:
        pair = f"lead-{part}", f"trail-{part}"
        for frame in _swapped(*(by_mark.get(mark, {}) for mark in pair)):
            why |= dict.fromkeys(((mark, frame) for mark in pair), SWAPPED)
    return [
        _less(one, {mark: reason for (mark, frame), reason in why.items() if frame == one.frame})
        for one in every
    ]


def _less(one: Suggestion, why: Mapping[str, str]) -> Suggestion:
    if not why:
        return one
    rows = tuple(row for row in one.rows if row.mark not in why)
    return replace(one, rows=rows, missing={**one.missing, **why})


def _swapped(lead: Places, trail: Places) -> list[int]:
    swapped = []
    for frame in lead.keys() & trail.keys():
        lines = _line(frame, lead), _line(frame, trail)
        if lines[0] is None or lines[1] is None:
            continue
        straight = _apart(lead[frame], lines[0]) + _apart(trail[frame], lines[1])
        crossed = _apart(lead[frame], lines[1]) + _apart(trail[frame], lines[0])
        if crossed * NEARER < straight:
            swapped.append(frame)
    return swapped


def _too_long(one: Places, other: Places) -> list[int]:
    both = sorted(one.keys() & other.keys())
    if len(both) < 2 * REACH:
        return []
    long = {frame: _apart(one[frame], (other[frame].x, other[frame].y)) for frame in both}
    usual = float(np.percentile(list(long.values()), MOST))
    return [
        frame
        for frame in both
        if long[frame] > LONGER * usual + SURE * max(one[frame].u or 0.0, other[frame].u or 0.0)
    ]


def _line(frame: int, places: Places) -> Point | None:
    """Where the middle line through the neighbours has the mark; None with too few, or all on one side.

    The middle of all lines through two of them (H. Theil 1950, P. K. Sen 1968), which a few wild places do
    not move.
    """
    near = [one for one in range(frame - REACH, frame + REACH + 1) if one != frame and one in places]
    if len(near) < ENOUGH or not near[0] < frame < near[-1]:
        return None
    at = np.array(near, dtype=np.float64) - frame
    x, y = (_middle_line(at, [getattr(places[one], axis) for one in near]) for axis in ("x", "y"))
    return x, y


def _middle_line(at: np.ndarray, values: Sequence[float]) -> float:
    """The value at 0 of the middle line."""
    told = np.array(values)
    first, second = np.triu_indices(len(at), 1)
    slope = float(np.median((told[second] - told[first]) / (at[second] - at[first])))
    return float(np.median(told - slope * at))


def _apart(seen: Observation, point: Point) -> float:
    return float(np.hypot(seen.x - point[0], seen.y - point[1]))
