"""The clubhead in the pictures between clicks: at the end of the shaft, put right by where it was clicked.

At a click it shows by how much the stripe goes on beyond the middle of the head. Between two clicks the
chosen shafts have to lie where those before and after say (each is checked by a curve through its
neighbours), else there is no place; nor is there one where another stripe would do as well. Across the shaft
a place is as good as the line through the stripe; along it, as the end.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Backdrop, backdrop_of
from lessonpress.footage.tracking.club.path import Held, followed, held
from lessonpress.footage.tracking.club.shafts import Shaft, shafts_in
from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.records import Observation, Point

Floats = NDArray[np.float64]

HEAD = "implement-head"
NO_GRIP = "the grip is not placed on both pictures on which the clubhead is, so that no shaft is looked for"
FEWEST = 8  # pictures that show enough of the room behind the golfer
SHORT = 0.4  # of the longest: a club that points at the camera is not looked for
BESIDE, PAST = 6.0, 30.0  # px from a click to the stripe that ends there, across and along
ODD = 6.0  # px by which a stripe's end beyond the head may differ from that of other clicks
ALIGNED = math.radians(8)  # from the stripe to the line between both clicked ends
NEAR = 4  # pictures before and after that have to agree
ROUND_IT = 3  # of them and the picture itself, through which the end is laid
OFF = 3.0  # deviations from its neighbours, at which a shaft is another thing
# deviations of a club from what its neighbours say: so much, and so much of the pace of one picture
TURN, TURNING = math.radians(1.5), 0.1  # radians
STEADY = 2.5, 0.1  # px, of the hands
LONGER = 2.0  # times that, along the shaft
VAGUE = 20.0  # px of the head: its neighbours say too little
RIVAL = 0.5  # of the chosen one's score: another stripe that would do as well
APART = 6.0  # px between their heads
ACROSS = 0.5  # px, least u across the shaft
ALONG = 1.2  # px, least u along it
DEEP = 0.014  # of the club's length: what a head reaches beyond its middle changes by as it turns
FANNED = 0.25  # of half a stripe's width, that its middle may be off
UNSURE = 8.0  # px: a place less sure is not given


@dataclass(frozen=True)
class _Anchor:
    """A clicked picture. beyond: px from the head to the end of the stripe, None where no stripe was seen."""

    head: Floats
    club: Held
    beyond: float | None


def clubheads(
    store: FrameStore, heads: Mapping[int, Point], grips: Mapping[int, Point]
) -> dict[int, Observation | str]:
    """By frame between two clicks on the head, where it is, or why that is not known.

    heads, grips: both ends of the club by hand, px, by frame. Where either end of a stretch has no grip,
    nothing is looked for: a shaft of which one point is known was tried, and led astray.
    """
    placed = sorted(heads)
    frames = [frame for frame in store.frames if placed[0] <= frame <= placed[-1]]
    if len(placed) < 2 or len(frames) < FEWEST:
        return {}
    if len(grips.keys() & heads.keys()) < 2:
        return dict.fromkeys(set(frames) - set(placed), NO_GRIP)
    backdrop = backdrop_of(store, frames)
    seen = {frame: shafts_in(store[frame], backdrop) for frame in frames}
    anchors = {
        frame: _anchor(frame, heads, grips, seen[frame], backdrop.scale) for frame in placed if frame in grips
    }
    found: dict[int, Observation | str] = {}
    for early, late in pairwise(placed):
        between = [frame for frame in frames if early < frame < late]
        found.update(_between(between, anchors.get(early), anchors.get(late), seen, anchors, backdrop))
    return found


def _anchor(
    frame: int,
    heads: Mapping[int, Point],
    grips: Mapping[int, Point],
    seen: Sequence[Shaft],
    scale: float,
) -> _Anchor:
    head = np.array(heads[frame]) * scale
    grip = np.array(grips[frame]) * scale
    length = float(np.linalg.norm(head - grip))
    way = (head - grip) / max(length, 1e-6)
    fitting = [shaft for shaft in seen if _ends_at(shaft, head, way)]
    shaft = max(fitting, key=lambda one: one.score, default=None)
    beyond = None if shaft is None else float((shaft.end - head) @ shaft.way)
    turn = math.atan2(float(way[1]), float(way[0]))
    return _Anchor(head, Held(frame, head - length * way, turn, length, None), beyond)


def _ends_at(shaft: Shaft, head: Floats, way: Floats) -> bool:
    normal = np.array([-shaft.way[1], shaft.way[0]])
    off = head - shaft.end
    if shaft.cut or abs(float(off @ normal)) > BESIDE or abs(float(off @ shaft.way)) > PAST:
        return False
    return float(way @ shaft.way) > math.cos(ALIGNED)


def _between(
    frames: Sequence[int],
    early: _Anchor | None,
    late: _Anchor | None,
    seen: Mapping[int, Sequence[Shaft]],
    anchors: Mapping[int, _Anchor],
    backdrop: Backdrop,
) -> dict[int, Observation | str]:
    known = _alike([anchor.beyond for anchor in anchors.values() if anchor.beyond is not None])
    if early is None or late is None:
        return dict.fromkeys(frames, NO_GRIP)
    if not known:
        return dict.fromkeys(frames, "no shaft is seen to end where the clubhead was placed")
    usual = float(np.median(known))
    begins, ends = (one.beyond if one.beyond in known else usual for one in (early, late))
    first, last = early.club, late.club
    span = last.frame - first.frame
    longest = max(anchor.club.length for anchor in anchors.values())
    clubs: dict[int, list[Held]] = {}
    beyond: dict[int, float] = {}
    for frame in frames:
        part = (frame - first.frame) / span
        beyond[frame] = (1 - part) * begins + part * ends
        length = (1 - part) * first.length + part * last.length
        shafts = seen[frame] if length >= SHORT * longest else ()
        clubs[frame] = [held(frame, shaft, beyond[frame], length) for shaft in shafts]
    spread = math.hypot(DEEP * longest, float(np.std(known)) if len(known) > 1 else ALONG)
    found: dict[int, Observation | str] = dict.fromkeys(
        frames, "no shaft is seen there that the clicks lead to"
    )
    for way in _ways(first, last, frames, clubs):
        for frame, place in _placed(way, clubs, beyond, spread, backdrop).items():
            twice = isinstance(found[frame], Observation) and isinstance(place, Observation)
            found[frame] = "the two ways of following the shaft part" if twice else place
    return found


def _alike(beyond: Sequence[float]) -> list[float]:
    """Those near to most: at a click the stripe may be cut short or go on into something else."""
    usual = float(np.median(beyond)) if len(beyond) else 0.0
    return [one for one in beyond if abs(one - usual) <= ODD]


def _ways(
    first: Held, last: Held, frames: Sequence[int], clubs: Mapping[int, Sequence[Held]]
) -> list[list[Held]]:
    """The club from click to click, or from either as far as it is seen in every picture."""
    onward, arrived = followed(first, last, frames, clubs)
    if arrived:
        return [[first, *onward, last]]
    back, _ = followed(last, first, frames[::-1], clubs)
    return [_unbroken([first, *onward]), _unbroken([last, *back])[::-1]]


def _unbroken(way: Sequence[Held]) -> list[Held]:
    """As far as it misses no picture: what no other click confirms may have gone over to something else."""
    missing = [i for i, (one, next_) in enumerate(pairwise(way)) if abs(next_.frame - one.frame) > 1]
    return list(way[: missing[0] + 1 if missing else len(way)])


def _placed(
    way: Sequence[Held],
    clubs: Mapping[int, Sequence[Held]],
    beyond: Mapping[int, float],
    spread: float,
    backdrop: Backdrop,
) -> dict[int, Observation | str]:
    """spread: px, u of how far the stripe goes on beyond the middle of the head."""
    sound, why = _checked(way)
    found: dict[int, Observation | str] = dict(why)
    for one in sound:
        if one.shaft is not None:
            found[one.frame] = _place(one, sound, clubs[one.frame], beyond[one.frame], spread, backdrop)
    return found


def _checked(way: Sequence[Held]) -> tuple[list[Held], dict[int, str]]:
    """Those that lie where their neighbours say, and the others with the reason; the worst goes first."""
    left, why = list(way), dict[int, str]()
    while True:
        ratios = [_off(left, i) if 0 < i < len(left) - 1 else 0.0 for i in range(len(left))]
        worst = int(np.argmax(ratios))
        if ratios[worst] <= OFF:
            return left, why
        why[left[worst].frame] = "the shaft there is not where those before and after have it"
        del left[worst]


def _off(way: Sequence[Held], i: int) -> float:
    """Deviations by which one differs from what a curve through its neighbours says; 0 if they say too
    little.
    """
    one = way[i]
    due = _due(one, way)
    return 0.0 if due is None else max(due.off(one))


@dataclass(frozen=True)
class _Due:
    """Where the neighbours of a picture have the club, with deviations."""

    hands: Floats
    turn: float
    turn_u: float
    hands_u: float

    def off(self, one: Held) -> tuple[float, float, float]:
        """Deviations by which a shaft differs: in turn, across, and along where its end is in the picture."""
        ahead = np.array([math.cos(one.turn), math.sin(one.turn)])
        off = one.hands - self.hands
        across = abs(float(off[1] * ahead[0] - off[0] * ahead[1]))
        along = 0.0 if one.shaft is not None and one.shaft.cut else abs(float(off @ ahead))
        turned = abs(math.remainder(one.turn - self.turn, 2 * math.pi))
        return turned / self.turn_u, across / self.hands_u, along / (LONGER * self.hands_u)


def _due(one: Held, way: Sequence[Held]) -> _Due | None:
    """None where too little around it is known to say so."""
    near = [other for other in way if other is not one and abs(other.frame - one.frame) <= NEAR]
    away = [other.frame - one.frame for other in near]
    if not away or min(away) > 0 or max(away) < 0:
        return None
    hands, turn, pace, turning = _laid(near, one)
    gaps = -max(step for step in away if step < 0) * min(step for step in away if step > 0)
    turn_u = gaps * (TURN + TURNING * abs(turning))
    if turn_u * one.length > VAGUE:
        return None
    return _Due(hands, one.turn + turn, turn_u, gaps * (STEADY[0] + STEADY[1] * float(np.linalg.norm(pace))))


def _laid(near: Sequence[Held], one: Held) -> tuple[Floats, float, Floats, float]:
    """Through its neighbours, at one's picture: the hands, the turn from one's, and the pace of both."""
    times = np.array([other.frame - one.frame for other in near], dtype=np.float64)
    turns = np.unwrap([other.turn for other in near])
    turns = turns - 2 * math.pi * round(float(np.mean(turns) - one.turn) / (2 * math.pi)) - one.turn
    rows = np.column_stack([[other.hands for other in near], turns])
    degree = 2 if len(near) > 3 else 1
    solved = np.polynomial.polynomial.polyfit(times, rows, degree)
    return solved[0, :2], float(solved[0, 2]), solved[1, :2], float(solved[1, 2])


def _place(
    one: Held,
    way: Sequence[Held],
    clubs: Sequence[Held],
    beyond: float,
    spread: float,
    backdrop: Backdrop,
) -> Observation | str:
    assert one.shaft is not None
    if one.shaft.cut:
        return "the clubhead is out of the picture"
    due = _due(one, way)
    if due is None:
        return "too few pictures around it show the shaft"
    if _rivalled(one, due, clubs):
        return "two things there could be the shaft"
    shaft = one.shaft
    near = [other for other in way if abs(other.frame - one.frame) <= ROUND_IT]
    further, scatter = _along(near, one)
    head = shaft.end + (further - beyond) * shaft.way
    along = math.hypot(ALONG, spread, scatter)
    across = math.hypot(ACROSS, shaft.across, FANNED * shaft.half)
    u = max(along, across) / backdrop.scale
    if u > UNSURE / backdrop.scale:
        return f"where the shaft ends there is {u:.1f} px in doubt"
    x, y = head / backdrop.scale
    clicks = [other.frame for other in way if other.shaft is None]
    origin = min(clicks, key=lambda click: (abs(click - one.frame), click))
    return Observation(HEAD, one.frame, float(x), float(y), u, tracked=True, origin=origin)


def _along(near: Sequence[Held], one: Held) -> tuple[float, float]:
    """px along the shaft from its end to where it and its neighbours have it, and their scatter."""
    ends = [other for other in near if other.shaft is None or not other.shaft.cut]
    if len(ends) < 4:
        return 0.0, 2 * ALONG
    times = np.array([other.frame - one.frame for other in ends], dtype=np.float64)
    ahead = np.array([math.cos(one.turn), math.sin(one.turn)])
    off = np.array([float((other.hands - one.hands) @ ahead) for other in ends])
    solved = np.polynomial.polynomial.polyfit(times, off, 2)
    rest = off - np.polynomial.polynomial.polyval(times, solved)
    scatter = math.sqrt(float((rest**2).sum()) / max(1, len(ends) - 3))
    return float(solved[0]), scatter


def _rivalled(one: Held, due: _Due, clubs: Sequence[Held]) -> bool:
    """Whether another stripe of the picture would do as well, and has the head elsewhere."""
    assert one.shaft is not None
    return any(
        other.shaft.score >= RIVAL * one.shaft.score
        and max(due.off(other)) < OFF
        and float(np.linalg.norm(other.shaft.end - one.shaft.end)) > APART
        for other in clubs
        if other.shaft is not None and other.shaft is not one.shaft
    )
