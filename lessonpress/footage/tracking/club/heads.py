"""The clubhead in the pictures between clicks: at the end of the shaft, put right by where it was clicked.

Where a spot broader than the shaft is seen at its end (`spot.py`), about as large as at the clicks, its
middle is the head's; else the end of the stripe is, less what it goes on beyond the head at the clicks.
Along the target line, where the club points at the camera now and then, a place is given only where the head
itself is seen, and that is looked for without a shaft as well (`lone.py`).
Between two clicks the chosen shafts have to lie where those before and after say (each is checked by a curve
through its neighbours), else there is no place; nor is there one where another stripe would do as well.
Across the shaft a place is as good as the line through the stripe; along it, as the end.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.club.backdrop import Backdrop, backdrop_of
from lessonpress.footage.tracking.club.known import TOO_FAST, Club
from lessonpress.footage.tracking.club.lone import lone_spots, look_of
from lessonpress.footage.tracking.club.path import FANNED, Click, Seen, followed, sights_of, taken, unlikely
from lessonpress.footage.tracking.club.shafts import Shaft, shafts_in, with_spots
from lessonpress.footage.tracking.club.steadied import Steadied, steadied
from lessonpress.footage.tracking.club.stick import (
    Stick,
    begun_at,
    gone_on,
    joined,
    misses,
    turned_back,
)
from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.records import Observation, Point

Floats = NDArray[np.float64]

HEAD = "implement-head"
NO_GRIP = "the grip is not placed on both pictures on which the clubhead is, so that no shaft is looked for"
MOVED = "how the camera moved is not known there"
ALONE = "too few pictures one after another show the shaft"
RUN = 5  # of them at the least
HEADLESS = "no clubhead is seen at the end of the shaft, as there has to be along the target line"
OUTSIDE = "the clubhead is out of the picture"
FEWEST = 8  # pictures that show enough of the room behind the golfer
BESIDE, PAST = 10.0, 30.0  # px from a click to the stripe that ends there, across and along
ODD = 6.0  # px by which a stripe's end beyond the head may differ from that of other clicks
ALIGNED = math.radians(8), 4.0  # from the stripe to the line between both clicked ends, and px at its end
REACHES = 1.2  # of the longest clicked club: one that is nearer to the camera and broadside to it
OFF = 3.0  # deviations from its neighbours, at which a shaft is another thing
VAGUE = 12.0  # px of the head: its neighbours say too little
FAST = 0.3  # of its reach, that the head turns from picture to picture: the ends of such fans are not seen
FAST_ALONE = 0.1  # of it, that a head alone does: it is smeared, and near to many things
APART = 8.0  # px between the heads of stripes that would do as well
SHORT = 0.25  # of its reach: a club that shows so little of its shaft
OPEN = 0.5  # of what is around the end of a shaft: with more of the golfer there it may be a limb's
ACROSS = 0.5  # px, least u across the shaft
ALONG = 1.2  # px, least u along it
SIDEWAYS = 0.7  # of how far a head's middle lies beside its shaft at a click: it turns about the shaft
SPOT, SPOT_UNSEEN = 3.0, 5.0  # px, least u of a head by its spot, and where no click shows one
SPOT_WORST = 6.0  # px of it, beyond which spots are not heeded
OF_IT = 12.0  # px from a click to the middle of the spot that is the head's
LIKE = 2.5  # times as large or small as at a click may a spot be
AGREE = 3.0  # deviations by which the spot may lie from where the end of the stripe has the head
DEEP = 0.014  # of the club's length: what a head reaches beyond its middle changes by as it turns
UNSURE = 8.0  # px: a place less sure is not given


@dataclass(frozen=True)
class _Anchor:
    """A clicked picture. shaft: of which the head is the end; None where no stripe was seen."""

    click: Click
    shaft: Shaft | None

    @property
    def askew(self) -> Floats | None:
        """px from the head to the middle of its spot, along the stripe and across."""
        if self.shaft is None or self.shaft.spot is None:
            return None
        off = self.shaft.spot.middle - self.click.head
        if float(np.linalg.norm(off)) > OF_IT:
            return None
        return np.array([float(off @ self.shaft.way), float(off @ _normal(self.shaft))])

    @property
    def beyond(self) -> Floats | None:
        """px from the head to the end of the stripe, along it and across."""
        if self.shaft is None:
            return None
        off = self.shaft.end - self.click.head
        return np.array([float(off @ self.shaft.way), float(off @ _normal(self.shaft))])


@dataclass(frozen=True)
class _Spots:
    """What clicks show of heads as spots. u: of a head taken to be in the middle of its spot, px per axis.
    least, most: px², of a spot that may be the head's.
    """

    u: float
    least: float
    most: float

    def head(self, shaft: Shaft) -> Floats | None:
        """Where the spot at a shaft's end has the head; None where there is none like those clicked."""
        spot = shaft.spot
        return spot.middle if spot is not None and self.least <= spot.area <= self.most else None


@dataclass(frozen=True)
class _Room:
    """What holds of a whole film. reach: px, how long the club can look. along, across: px, u of where a
    stripe ends beyond the middle of the head. scale: px looked through to one of the film's. end_on: whether
    the club points at the camera now and then.
    """

    reach: float
    along: float
    across: float
    scale: float
    spots: _Spots
    end_on: bool = False


def clubheads(store: FrameStore, heads: Mapping[int, Point], club: Club) -> dict[int, Observation | str]:
    """By frame between two clicks on the head, where it is, or why that is not known.

    heads: where it is by hand, px, by frame. Where either end of a stretch has no grip, nothing is looked
    for: a shaft of which one point is known was tried, and led astray.
    """
    grips = {frame: grip for frame, grip in club.grips.items() if frame in store}
    placed = sorted(heads)
    frames = [frame for frame in store.frames if placed[0] <= frame <= placed[-1]]
    if len(placed) < 2 or len(frames) < FEWEST:
        return {}
    if len(grips.keys() & heads.keys()) < 2:
        return dict.fromkeys(set(frames) - set(placed), NO_GRIP)
    film = steadied(store, frames, {at: [heads[at], grips[at]] for at in grips.keys() & heads.keys()})
    if len(film.frames) < FEWEST:
        return dict.fromkeys(set(frames) - set(placed), MOVED)
    backdrop = backdrop_of(film)
    lone = _lone(film, backdrop, heads) if club.end_on else None
    if club.too_fast and lone is None:
        return dict.fromkeys(set(frames) - set(placed), TOO_FAST)
    seen = {frame: _shafts(film[frame], backdrop) for frame in film.frames}
    anchors = {
        frame: _anchor(
            film.onto(frame, heads[frame]), film.onto(frame, grips[frame]), frame, seen[frame], backdrop.scale
        )
        for frame in placed
        if frame in grips and frame in seen
    }
    known = _alike([one for anchor in anchors.values() if (one := anchor.beyond) is not None])
    found: dict[int, Observation | str] = {}
    for early, late in pairwise(placed):
        between = [frame for frame in frames if early < frame < late]
        if early not in anchors or late not in anchors:
            known_there = {early, late} <= grips.keys()
            found.update(dict.fromkeys(between, MOVED if known_there else NO_GRIP))
        elif not len(known):
            found.update(dict.fromkeys(between, "no shaft is seen to end where the clubhead was placed"))
        else:
            room = replace(_room(anchors, known, backdrop), end_on=club.end_on)
            steady = _between(
                [at for at in between if at in seen], anchors[early], anchors[late], seen, lone, known, room
            )
            found.update(dict.fromkeys(between, MOVED))
            found.update({at: _as_filmed(place, film) for at, place in steady.items()})
    return found


def _shafts(grey: NDArray[np.uint8], backdrop: Backdrop) -> list[Shaft]:
    return with_spots(shafts_in(grey, backdrop), grey, backdrop)


def _lone(film: Steadied, backdrop: Backdrop, heads: Mapping[int, Point]) -> dict[int, list[Seen]] | None:
    """By frame, what may be the head alone; None where the clicks do not show how it looks."""
    clicks = [
        (np.array(film.onto(at, head)) * backdrop.scale, backdrop.looked_at(film[at]))
        for at, head in heads.items()
        if at in film.frames
    ]
    look = look_of(clicks, backdrop)
    if look is None:
        return None
    u = _spread(look.askew)
    return {
        frame: [
            Seen(frame, spot.middle, None, u, u, like=True)
            for spot in lone_spots(backdrop.looked_at(film[frame]), look, backdrop)
        ]
        for frame in film.frames
    }


def _spread(askew: Floats) -> float:
    """px, u of a head taken to be in the middle of its spot. askew: (n, 2), px, of that at clicks."""
    aside = SIDEWAYS if len(askew) > 1 else 1.0
    return max(SPOT, aside * float(np.abs(askew).max())) * math.sqrt(1 + 1 / len(askew))


def _as_filmed(place: Observation | str, film: Steadied) -> Observation | str:
    """A place in its own picture again."""
    if isinstance(place, str):
        return place
    x, y = film.back(place.frame, (place.x, place.y))
    if film.at_edge((x, y)):
        return OUTSIDE
    return replace(place, x=x, y=y, u=math.hypot(place.u or 0.0, film.u(place.frame, (x, y))))


def _room(anchors: Mapping[int, _Anchor], known: Floats, backdrop: Backdrop) -> _Room:
    longest = max(math.dist(anchor.click.head, anchor.click.hands) for anchor in anchors.values())
    along, across = known.std(axis=0, ddof=1) if len(known) > 1 else (ALONG, 0.0)
    across = max(float(across), (SIDEWAYS if len(known) > 1 else 1.0) * float(np.abs(known[:, 1]).max()))
    along = math.hypot(DEEP * longest, float(along))
    few = math.sqrt(1 + 1 / len(known))  # of a value foretold by the mean of so many
    return _Room(REACHES * longest, few * along, few * across, backdrop.scale, _spots(anchors.values()))


def _spots(anchors: Iterable[_Anchor]) -> _Spots:
    shown = [
        (off, anchor.shaft.spot.area)
        for anchor in anchors
        if anchor.shaft is not None and anchor.shaft.spot is not None and (off := anchor.askew) is not None
    ]
    if not shown:
        return _Spots(SPOT_UNSEEN, 0.0, math.inf)
    usual = float(np.median([area for _, area in shown]))
    like = [off for off, area in shown if usual / LIKE <= area <= LIKE * usual]
    u = _spread(np.array(like))
    return _Spots(u, *((usual / LIKE, LIKE * usual) if u <= SPOT_WORST else (math.inf, 0.0)))


def _anchor(head: Point, grip: Point, frame: int, seen: Sequence[Shaft], scale: float) -> _Anchor:
    click = Click(frame, np.array(grip) * scale, np.array(head) * scale)
    fitting = [shaft for shaft in seen if _ends_at(shaft, click)]
    return _Anchor(click, max(fitting, key=lambda one: one.score, default=None))


def _ends_at(shaft: Shaft, click: Click) -> bool:
    if shaft.cut:
        return False
    off = click.head - shaft.end
    of_it = shaft.spot is not None and float(np.linalg.norm(shaft.spot.middle - click.head)) < OF_IT
    if not of_it and (abs(float(off @ _normal(shaft))) > BESIDE or abs(float(off @ shaft.way)) > PAST):
        return False
    club = click.head - click.hands
    length = max(float(np.linalg.norm(club)), 1e-6)
    return float(club @ shaft.way) / length > math.cos(ALIGNED[0] + math.atan2(ALIGNED[1], length))


def _normal(shaft: Shaft) -> Floats:
    return np.array([-shaft.way[1], shaft.way[0]])


def _alike(beyond: Sequence[Floats]) -> Floats:
    """(n, 2): those near to most along the stripe: at a click it may be cut short or go on into something
    else.
    """
    every = np.array(beyond).reshape(-1, 2)
    usual = float(np.median(every[:, 0])) if len(every) else 0.0
    return every[np.abs(every[:, 0] - usual) <= ODD]


def _between(
    frames: Sequence[int],
    early: _Anchor,
    late: _Anchor,
    seen: Mapping[int, Sequence[Shaft]],
    lone: Mapping[int, Sequence[Seen]] | None,
    known: Floats,
    room: _Room,
) -> dict[int, Observation | str]:
    usual = np.median(known, axis=0)
    odd = [_odd(one, usual) for one in (early, late)]
    begins, ends = (
        usual if one.beyond is None or off > 0 else one.beyond
        for one, off in zip((early, late), odd, strict=True)
    )
    span = late.click.frame - early.click.frame
    clubs: dict[int, list[Seen]] = {}
    for frame in frames:
        part = (frame - early.click.frame) / span
        beyond = (1 - part) * begins + part * ends
        there = replace(room, along=math.hypot(room.along, (1 - part) * odd[0], part * odd[1]))
        clubs[frame] = [_club(frame, shaft, beyond, there) for shaft in seen[frame]]
        if lone is not None:
            clubs[frame] = [_likened(one, lone[frame]) for one in clubs[frame]]
            clubs[frame].extend(one for one in lone[frame] if one.along <= SPOT_WORST)
    found: dict[int, Observation | str] = dict.fromkeys(
        frames, "no shaft is seen there that the clicks lead to"
    )
    for way in _ways(early.click, late.click, frames, clubs, room.reach):
        for frame, place in _placed(way, clubs, room).items():
            twice = isinstance(found[frame], Observation) and isinstance(place, Observation)
            found[frame] = "the two ways of following the shaft part" if twice else place
    return found


def _odd(anchor: _Anchor, usual: Floats) -> float:
    """px by which a stripe ends elsewhere at a click than at others, if by much: so it may on the pictures
    beside it.
    """
    off = 0.0 if anchor.beyond is None else abs(float(anchor.beyond[0] - usual[0]))
    return off if off > ODD else 0.0


def _club(frame: int, shaft: Shaft, beyond: Floats, room: _Room) -> Seen:
    """With the head where its spot is, or where the stripe's end has it, px `beyond` the head."""
    normal = _normal(shaft)
    by_end = shaft.end - beyond[0] * shaft.way - beyond[1] * normal
    head = room.spots.head(shaft)
    if head is not None:
        u = room.spots.u
        along, across = abs(float((head - by_end) @ shaft.way)), abs(float((head - by_end) @ normal))
        if along <= AGREE * math.hypot(room.along, u) and across <= AGREE * math.hypot(room.across, u):
            return Seen(frame, head, shaft, u, u, spotted=True)
    return Seen(frame, by_end, shaft, room.along, room.across)


def _likened(one: Seen, lone: Sequence[Seen]) -> Seen:
    """With whether what looks like the head is where it has it."""
    return replace(one, like=any(float(np.linalg.norm(one.head - like.head)) < OF_IT for like in lone))


@dataclass(frozen=True)
class _Followed:
    """Shafts of pictures that follow each other, from a click or to one, or both."""

    early: Click | None
    late: Click | None
    shafts: tuple[Seen, ...]


def _ways(
    early: Click, late: Click, frames: Sequence[int], clubs: Mapping[int, Sequence[Seen]], reach: float
) -> list[_Followed]:
    """The club from click to click, or from either as far as it is seen in every picture."""
    onward, arrived = followed(early, late, frames, clubs, reach)
    if arrived:
        return [_Followed(early, late, onward)]
    back, _ = followed(late, early, frames[::-1], clubs, reach)
    return [
        _Followed(early, None, _unbroken(early.frame, onward)),
        _Followed(None, late, _unbroken(late.frame, back)[::-1]),
    ]


def _unbroken(start: int, way: Sequence[Seen]) -> tuple[Seen, ...]:
    """As far as it misses no picture: what no other click confirms may have gone over to something else."""
    frames = [start, *(one.frame for one in way)]
    missing = [i for i, (one, next_) in enumerate(pairwise(frames)) if abs(next_ - one) > 1]
    return tuple(way[: missing[0] if missing else len(way)])


def _placed(way: _Followed, clubs: Mapping[int, Sequence[Seen]], room: _Room) -> dict[int, Observation | str]:
    alone = _too_few(way, room)
    kept = _enclosed(way, [one for one in way.shafts if one.frame not in alone])
    sound, dues, why = _checked(replace(way, shafts=kept), room)
    found: dict[int, Observation | str] = {**why, **dict.fromkeys(alone, ALONE)}
    for one, due in zip(sound.shafts, dues, strict=True):
        found[one.frame] = _place(one, due, sound, clubs[one.frame], room)
    return found


def _too_few(way: _Followed, room: _Room) -> set[int]:
    """Pictures of it that are not among enough one after another: that show a shaft, if they show one."""
    clicks = {end.frame for end in (way.early, way.late) if end}
    heads = {one.frame for one in way.shafts} | clicks
    shafts = {one.frame for one in way.shafts if one.shaft is not None} | clicks
    return {
        one.frame
        for one in way.shafts
        if not _sure(one, room) and _run(one.frame, heads if one.shaft is None else shafts) < RUN
    }


def _sure(one: Seen, room: _Room) -> bool:
    """Whether the head at the end of a shaft says that it is one, whatever the pictures around show."""
    return one.spotted and (bool(one.like) or not room.end_on)


def _enclosed(way: _Followed, kept: Sequence[Seen]) -> tuple[Seen, ...]:
    """Less the heads alone at an end that no click confirms: they may have gone over to something else."""
    shafts = [i for i, one in enumerate(kept) if one.shaft is not None]
    first = 0 if way.early else min(shafts, default=len(kept))
    last = len(kept) if way.late else max(shafts, default=-1) + 1
    return tuple(kept[first:last])


def _run(frame: int, shown: Set[int]) -> int:
    """How many pictures one after another show the shaft, with that one."""
    first = last = frame
    while first - 1 in shown:
        first -= 1
    while last + 1 in shown:
        last += 1
    return last - first + 1


def _checked(way: _Followed, room: _Room) -> tuple[_Followed, list[Stick | None], dict[int, str]]:
    """Those that lie where their neighbours say, each with what these say, and the others with the reason;
    the worst goes first.
    """
    why = dict[int, str]()
    while way.shafts:
        dues = _dues(way, room.reach)
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


def _dues(way: _Followed, reach: float) -> list[Stick | None]:
    """What all other pictures say of the club in each of these, those before and those after together; None
    where one of both is missing.
    """
    onward = _expected(way.early, way.shafts, reach)
    back = _expected(way.late, way.shafts[::-1], reach)[::-1]
    return [
        None if one is None or other is None else joined(one, turned_back(other))
        for one, other in zip(onward, back, strict=True)
    ]


def _expected(click: Click | None, shafts: Sequence[Seen], reach: float) -> list[Stick | None]:
    """What those before say of the club in each, away from a click; without a click the first has none."""
    stick: Stick | None = None
    expected: list[Stick | None] = []
    frame = shafts[0].frame if click is None else click.frame
    if click is not None:
        stick = click.stick(reach)
    for one in shafts:
        due = None if stick is None else gone_on(stick, abs(one.frame - frame))
        expected.append(due)
        if due is None and one.shaft is not None:
            due = begun_at(one.head, one.shaft.way, one.shaft.length, reach)
        if due is not None:
            stick, frame = taken(due, one)[0], one.frame
    return expected


def _place(
    one: Seen, due: Stick | None, way: _Followed, clubs: Sequence[Seen], room: _Room
) -> Observation | str:
    if one.shaft is not None and one.shaft.cut:
        return OUTSIDE
    if one.shaft is not None and one.shaft.open < OPEN:
        return "the clubhead is before the golfer"
    fastest = FAST_ALONE if one.shaft is None else math.inf if one.spotted else FAST
    fast = due is not None and due.turning > fastest * due.reach
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
