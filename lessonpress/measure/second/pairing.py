"""Which places of the other clip show a mark at an instant of this one, and how far it moved between.

Places of the other clip that lie close in time to either side are joined by a straight line; what a mark does
beside it is the bend between three places. One that was placed at the instant alone, as at an event that both
cards name, is taken as it is, and the mark may have moved in what the pictures are apart.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from lessonpress.measure.body.depths import HEAD
from lessonpress.measure.body.posture import bare
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.second.timing import STANDING, Timing, half_a_picture
from lessonpress.measure.sight import Sight

CLOSE = 0.04  # s: places farther apart are not joined, and none farther off is taken
# m/s: no mark of a golfer moves faster across a picture (own choice, from the speeds of fast swings)
FASTEST = {HEAD: 55.0, "implement-grip": 12.0, "wrist": 10.0, "elbow": 7.0, "shoulder": 4.0}
BODY_FASTEST = 3.0
SLOWER = {"top": 0.1, **dict.fromkeys(STANDING, 0.02)}  # of it at an instant where the swing turns or stands


@dataclass(frozen=True)
class Pairing:
    """before, after: places of the other clip, the same where it is one. part: of the way, 0..1, at best.

    seconds: from one to the other. moved: u in m of how far the mark may lie off the line between.
    """

    before: At
    after: At
    part: float
    seconds: float
    moved: float


def paired(at: At, one: Sight, other: Sight, timing: Timing) -> Pairing | None:
    """The places that show a mark of `one` in `other`; None where it is not seen there."""
    frames = sorted(other.observations.by_mark.get(at.mark, {}))
    times = other.setting.times or ()
    frames = [frame for frame in frames if frame < len(times)]
    if not frames or not one.setting.times or at.frame >= len(one.setting.times):
        return None
    when = one.setting.times[at.frame] + timing.later.value
    position = bisect_left([times[frame] for frame in frames], when)
    if 0 < position < len(frames):
        first, last = frames[position - 1], frames[position]
        if times[last] - times[first] <= CLOSE:
            part = (when - times[first]) / (times[last] - times[first])
            bent = _bend(frames, position, at.mark, other)
            return Pairing(At(at.mark, first), At(at.mark, last), part, times[last] - times[first], bent)
    return _alone(at, frames, when, one, other, timing)


def _alone(
    at: At, frames: Sequence[int], when: float, one: Sight, other: Sight, timing: Timing
) -> Pairing | None:
    for event, (mine, theirs) in timing.events.items():
        if mine == at.frame and theirs in frames:
            halves = half_a_picture(one.setting, mine), half_a_picture(other.setting, theirs)
            moved = fastest_at(at.mark, event) * math.hypot(*halves) / math.sqrt(3)
            return _still(At(at.mark, theirs), moved)
    times = other.setting.times or ()
    nearest = min(frames, key=lambda frame: abs(times[frame] - when))
    off = math.hypot((times[nearest] - when) / math.sqrt(3), timing.later.u)
    if off > CLOSE:
        return None
    return _still(At(at.mark, nearest), off * _fastest(at.mark))


def _still(at: At, moved: float) -> Pairing:
    return Pairing(at, at, 0.0, 0.0, moved)


def fastest_at(mark: str, event: str) -> float:
    """How fast a mark moves across a picture at an event, m/s, at most."""
    return _fastest(mark) * SLOWER.get(event, 1.0)


def _fastest(mark: str) -> float:
    return FASTEST.get(mark, FASTEST.get(bare(mark), BODY_FASTEST))


def _bend(frames: Sequence[int], position: int, mark: str, other: Sight) -> float:
    """How far a mark lies off a straight line between two places, m: an eighth of the second difference.

    Source: the error of linear interpolation, h² f″/8, any text on numerical analysis.
    """
    near = frames[max(0, position - 2) : position + 2]
    if len(near) < 3:
        return _fastest(mark) * CLOSE / 8
    x = [float(other.in_plane(At(mark, frame), other.best)[0][0]) for frame in near]
    seconds = [abs(x[i] - 2 * x[i + 1] + x[i + 2]) for i in range(len(x) - 2)]
    return max(seconds) / 8
