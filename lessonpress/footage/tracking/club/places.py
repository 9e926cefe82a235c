"""Of the shafts that were followed from click to click, those to be believed, and the head's place by them.

They have to lie where those before and after say (each is checked by a curve through its neighbours), else
there is no place; nor is there one where another stripe would do as well. Across the shaft a place is as good
as the line through the stripe; along it, as the end.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from lessonpress.footage.tracking.club.clock import Clock
from lessonpress.footage.tracking.club.ends import ALONG, Room
from lessonpress.footage.tracking.club.path import (
    FANNED,
    SOON,
    Click,
    Seen,
    followed,
    sights_of,
    taken,
    unlikely,
)
from lessonpress.footage.tracking.club.stick import (
    Stick,
    begun_at,
    gone_on,
    joined,
    misses,
    turned_back,
)
from lessonpress.records import Observation

HEAD = "implement-head"
ALONE = "too few pictures one after another show the shaft"
RUN = 5  # steps of them at the least
HEADLESS = "no clubhead is seen at the end of the shaft, as there has to be along the target line"
OUTSIDE = "the clubhead is out of the picture"
JOINED = 2  # times as near as pictures that follow each other: nothing may be seen between so long
OFF = 3.0  # deviations from its neighbours, at which a shaft is another thing
VAGUE = 12.0  # px of the head: its neighbours say too little
FAST = 0.3  # of its reach, that the head turns from picture to picture: the ends of such fans are not seen
FAST_ALONE = 0.1  # of it, that a head alone does: it is smeared, and near to many things
APART = 8.0  # px between the heads of stripes that would do as well
SHORT = 0.25  # of its reach: a club that shows so little of its shaft
OPEN = 0.5  # of what is around the end of a shaft: with more of the golfer there it may be a limb's
ACROSS = 0.5  # px, least u across the shaft
UNSURE = 8.0  # px: a place less sure is not given


@dataclass(frozen=True)
class _Followed:
    """Shafts of pictures that follow each other, from a click or to one, or both."""

    early: Click | None
    late: Click | None
    shafts: tuple[Seen, ...]


def ways_between(
    early: Click, late: Click, frames: Sequence[int], clubs: Mapping[int, Sequence[Seen]], room: Room
) -> list[_Followed]:
    """The club from click to click, or from either as far as it is seen in every picture."""
    onward, arrived = followed(early, late, frames, clubs, room.reach, room.clock)
    if arrived:
        return [_Followed(early, late, onward)]
    back, _ = followed(late, early, frames[::-1], clubs, room.reach, room.clock)
    return [
        _Followed(early, None, _unbroken(early.frame, onward, room.clock)),
        _Followed(None, late, _unbroken(late.frame, back, room.clock)[::-1]),
    ]


def _unbroken(start: int, way: Sequence[Seen], clock: Clock) -> tuple[Seen, ...]:
    """As far as it misses nothing for a step: what no other click confirms may have gone over to something
    else.
    """
    frames = [start, *(one.frame for one in way)]
    missing = [i for i, (one, next_) in enumerate(pairwise(frames)) if clock.apart(one, next_) > clock.near]
    return tuple(way[: missing[0] if missing else len(way)])


def places_of(
    way: _Followed, clubs: Mapping[int, Sequence[Seen]], room: Room
) -> dict[int, Observation | str]:
    alone = _too_few(way, room)
    kept = _enclosed(way, [one for one in way.shafts if one.frame not in alone], room.clock)
    sound, dues, why = _checked(replace(way, shafts=kept), room)
    found: dict[int, Observation | str] = {**why, **dict.fromkeys(alone, ALONE)}
    for one, due in zip(sound.shafts, dues, strict=True):
        found[one.frame] = _place(one, due, sound, clubs[one.frame], room)
    return found


def _too_few(way: _Followed, room: Room) -> set[int]:
    """Pictures of it that are not among enough one after another: that show a shaft, if they show one."""
    clicks = {end.frame for end in (way.early, way.late) if end}
    heads = {one.frame for one in way.shafts} | clicks
    shafts = {one.frame for one in way.shafts if one.shaft is not None} | clicks
    return {
        one.frame
        for one in way.shafts
        if not _sure(one, room)
        and _run(one.frame, heads if one.shaft is None else shafts, room.clock) < RUN - SOON
    }


def _sure(one: Seen, room: Room) -> bool:
    """Whether the head at the end of a shaft says that it is one, whatever the pictures around show."""
    return one.spotted and (bool(one.like) or not room.end_on)


def _enclosed(way: _Followed, kept: Sequence[Seen], clock: Clock) -> tuple[Seen, ...]:
    """Less heads alone, and those before the golfer, that are not joined both ways to a click or to a head in
    the open at the end of a shaft: they may have gone over to something else that is as dark, such as the end
    of the grip while the club is out of the picture.
    """
    clicks = [end.frame for end in (way.early, way.late) if end]
    firm = {one.frame for one in kept if _in_the_open(one)} | set(clicks)
    weak = {one.frame for one in kept if _in_doubt(one)}
    chain = sorted(firm | weak)
    joined = _reached(chain, firm, clock) & _reached(chain[::-1], firm, clock)
    return tuple(one for one in kept if one.frame not in weak or one.frame in joined)


def _in_the_open(one: Seen) -> bool:
    return one.shaft is not None and one.confirmed and one.shaft.open >= OPEN


def _in_doubt(one: Seen) -> bool:
    return one.shaft is None or (one.like is True and one.shaft.open < OPEN)


def _reached(chain: Sequence[int], firm: Set[int], clock: Clock) -> set[int]:
    """Of pictures in a row, those to which one goes from a firm one, each near to the one before."""
    reached = set[int]()
    before: int | None = None
    for frame in chain:
        if frame in firm or (before is not None and clock.apart(before, frame) <= JOINED * clock.near):
            reached.add(frame)
            before = frame
    return reached


def _run(frame: int, shown: Set[int], clock: Clock) -> float:
    """Steps that show the shaft one after another, with that picture."""
    before = [at for at in sorted(shown, reverse=True) if at <= frame]
    after = [at for at in sorted(shown) if at >= frame]
    ends = [_last(one, clock) for one in (before, after)]
    return clock.apart(*ends) + 1


def _last(frames: Sequence[int], clock: Clock) -> int:
    """The last that is reached from the first by those that are near to each other."""
    for one, next_ in pairwise(frames):
        if clock.apart(one, next_) > clock.near:
            return one
    return frames[-1]


def _checked(way: _Followed, room: Room) -> tuple[_Followed, list[Stick | None], dict[int, str]]:
    """Those that lie where their neighbours say, each with what these say, and the others with the reason;
    the worst goes first.
    """
    why = dict[int, str]()
    while way.shafts:
        dues = _dues(way, room)
        ratios = [0.0 if due is None else _off(one, due) for one, due in zip(way.shafts, dues, strict=True)]
        worst = int(np.argmax(ratios))
        if ratios[worst] <= OFF:
            return way, dues, why
        why[way.shafts[worst].frame] = "the shaft there is not where those before and after have it"
        way = replace(way, shafts=(*way.shafts[:worst], *way.shafts[worst + 1 :]))
    return way, [], why


def _off(one: Seen, due: Stick) -> float:
    """Deviations by which a shaft differs from what its neighbours say."""
    _, parts, _ = misses(due, sights_of([one]))
    return math.sqrt(float(parts.max()))


def _dues(way: _Followed, room: Room) -> list[Stick | None]:
    """What all other pictures say of the club in each of these, those before and those after together; None
    where one of both is missing.
    """
    onward = _expected(way.early, way.shafts, room)
    back = _expected(way.late, way.shafts[::-1], room)[::-1]
    return [
        None if one is None or other is None else joined(one, turned_back(other))
        for one, other in zip(onward, back, strict=True)
    ]


def _expected(click: Click | None, shafts: Sequence[Seen], room: Room) -> list[Stick | None]:
    """What those before say of the club in each, away from a click; without a click the first has none."""
    stick: Stick | None = None
    expected: list[Stick | None] = []
    frame = shafts[0].frame if click is None else click.frame
    if click is not None:
        stick = click.stick(room.reach)
    for one in shafts:
        due = None if stick is None else gone_on(stick, room.clock.apart(one.frame, frame))
        expected.append(due)
        if due is None and one.shaft is not None:
            due = begun_at(one.head, one.shaft.way, one.shaft.length, room.reach)
        if due is not None:
            stick, frame = taken(due, one)[0], one.frame
    return expected


def _place(
    one: Seen, due: Stick | None, way: _Followed, clubs: Sequence[Seen], room: Room
) -> Observation | str:
    if one.cut:
        return OUTSIDE
    if one.open < OPEN:
        return "the clubhead is before the golfer"
    fastest = FAST_ALONE if one.shaft is None else math.inf if one.spotted else FAST
    fast = due is not None and due.turning * room.clock.picture > fastest * due.reach
    if room.end_on and not one.confirmed:
        return HEADLESS
    if due is None or _head_u(due) > VAGUE or fast:
        return "too few pictures around it show the shaft"
    doubt = _doubt(one, due, clubs)
    if doubt > APART:
        return "two things there could be the shaft"
    stick, _ = taken(due, one)
    end_on = float(np.linalg.norm(stick.way)) < SHORT * stick.reach
    if end_on and one.shaft is not None and not one.spotted:
        return "the club points at the camera"
    along = math.hypot(ALONG, one.along, _head_u(stick))
    across = math.hypot(ACROSS, one.across)
    if one.shaft is not None:
        across = math.hypot(across, one.shaft.across, FANNED * one.shaft.half)
    u = math.hypot(max(along, across), doubt / math.sqrt(2)) / room.scale
    if u > UNSURE / room.scale:
        return f"where the shaft ends there is {u:.1f} px in doubt"
    x, y = (stick.hands + stick.way) / room.scale
    clicks = [click.frame for click in (way.early, way.late) if click is not None]
    origin = min(clicks, key=lambda click: (abs(click - one.frame), click))
    return Observation(HEAD, one.frame, float(x), float(y), u, tracked=True, origin=origin)


def _head_u(stick: Stick) -> float:
    """The greatest deviation of the head in any direction, px."""
    both = np.hstack([np.eye(2), np.eye(2), np.zeros((2, 4))])
    return math.sqrt(float(np.linalg.eigvalsh(both @ stick.cov @ both.T).max()))


def _doubt(one: Seen, due: Stick, clubs: Sequence[Seen]) -> float:
    """px, how far off the heads of other stripes are that would do as well: their root mean square distance,
    each as likely as it is beside the one.
    """
    others = [
        club
        for club in clubs
        if club is not one and (club.shaft is None or float(due.way @ club.shaft.way) > 0)
    ]
    if not others:
        return 0.0
    costs = unlikely(due, [one, *others])
    weights = np.exp(np.minimum(costs[0] - costs, 0.0))
    squares = [0.0, *(float(((other.head - one.head) ** 2).sum()) for other in others)]
    return math.sqrt(float((weights * squares).sum() / weights.sum()))
