"""Finding each tag a place: deterministic, never over another tag, never at the picture's edge.

A tag is tried in 24 directions and at 8 distances from what it names. Covering marks and lines costs, and
so do the body's telling parts, distance, and a leader that runs over lines. Where a plate is too dense,
tags give up words, then ±, then the value, never the letter: at first one at a time, and the longer that
does not help the more at once, so that the time for a plate grows little faster than its tags.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lessonpress.drawing.layout import Box
from lessonpress.drawing.tags.ground import COVERED, LINE, Flags, Floats, Ground
from lessonpress.drawing.tags.tags import Lettering
from lessonpress.drawing.tags.taken import TAG_GAP, Taken
from lessonpress.records import Point

DIRECTIONS = 24
DISTANCES = (16.0, 24.0, 34.0, 46.0, 62.0, 80.0, 104.0, 130.0)  # CSS px from the anchor
DROP = 26.0  # how far a letter on a line moves down for one beside it
AWAY = 0.5  # cost of a CSS px between tag and anchor
FAR = 46.0  # CSS px from the anchor beyond which a px costs twice as much
CROSSED = 3.0  # cost of a CSS px of a leader that runs on a mark or a line
CROSSED_TAG = 400.0  # cost of a leader under another tag or along its edge
ALONG = 80.0  # cost of a leader that runs along a line for most of its length, or goes on in its direction
ASIDE = 20.0  # degrees by which a leader leaves the direction of its stroke at least
NEAR = 7.0  # CSS px round the anchor where a leader cannot but lie on what it names
# the cost above which it is better to give up words or ±; a value is given up only for lack of room
TOO_DEAR = {"words": 120.0, "pm": 200.0}
LEADER_FROM = 5.0  # a tag nearer than this to what it names has no leader
NEIGHBOUR = 150.0  # CSS px within which tags are in each other's way
ROLES = ("words", "pm", "value")  # in the order in which they are given up
PATIENCE = 16  # attempts after which twice as much is given up at once
MOST_FULL = 0.6  # share of a picture that tags can cover and still find places


@dataclass(frozen=True)
class Wanted:
    """A tag to be placed, in CSS px.

    along: the visible part of the line a lone letter may ride on, upper end first, or None. ways: degrees in
    which its own strokes run at the anchor, along which a leader would read as more of the stroke.
    """

    said: Lettering
    anchor: Point
    along: tuple[Point, Point] | None = None
    ways: tuple[float, ...] = ()

    def alone(self) -> Wanted:
        """The same with its letter alone."""
        return replace(self, said=self.said.alone())


@dataclass(frozen=True)
class Placed:
    """A tag with its box (left, top, right, bottom) and, unless it lies at its anchor, a leader to it."""

    said: Lettering
    anchor: Point
    box: Box
    leader: tuple[Point, Point] | None

    @property
    def corner(self) -> Point:
        return (self.box[0], self.box[1])

    @property
    def pin(self) -> Point:
        """The point of the tag nearest to its anchor, by which it stays in place where the picture grows."""
        left, top, right, bottom = self.box
        return (min(max(self.anchor[0], left), right), min(max(self.anchor[1], top), bottom))


def place_tags(wanted: Sequence[Wanted], ground: Ground) -> tuple[Placed, ...]:
    """A place for every tag, in the order given.

    Where even lone letters do not fit, those that are left are put where they cover the least.
    """
    said = [want.said for want in wanted]
    fits = _give_up_by_area(said, ground)
    choices = _Choices(wanted, ground)
    count = 0
    while fits:
        attempt = _Attempt(choices, said, last=False)
        if attempt.stuck is None:
            return attempt.in_order()
        fits = _give_up(said, wanted, attempt.stuck, 2 ** (count // PATIENCE))
        count += 1
    alone = [one.alone() for one in said]
    return _Attempt(choices, alone, last=True).in_order()


def _give_up_by_area(said: list[Lettering], ground: Ground) -> bool:
    """Let the widest tags say less until together they could fit. False where lone letters could not."""
    room = MOST_FULL * ground.width * ground.height
    need = sum(_area(one) for one in said)
    for role in ROLES:
        for index in sorted(range(len(said)), key=lambda i: (-said[i].width, i)):
            if need <= room:
                return True
            less = said[index].gives_up(role)
            need += _area(less) - _area(said[index])
            said[index] = less
    return need <= room


def _area(said: Lettering) -> float:
    return (said.width + TAG_GAP) * (said.height + TAG_GAP)


def _give_up(said: list[Lettering], wanted: Sequence[Wanted], stuck: int, count: int) -> bool:
    """Let `count` tags say less: the stuck one and its neighbours, words first. False if all are letters."""
    away = [math.dist(want.anchor, wanted[stuck].anchor) for want in wanted]
    near = sorted(range(len(said)), key=lambda i: (away[i], i))
    close = [i for i in near if away[i] <= NEIGHBOUR]
    left = count
    for group in (close, near):
        for role in ROLES:
            for i in group:
                if any(run.role == role for run in said[i].runs):
                    said[i] = said[i].gives_up(role)
                    left -= 1
                    if not left:
                        return True
    return left < count


@dataclass(frozen=True)
class _Choice:
    """The places inside the picture that a tag may take, with what each costs before others are placed."""

    boxes: Floats  # (m, 4)
    leaders: Floats  # (m, 12, 2), points from the anchor to each box
    costs: Floats  # (m,)


class _Choices:
    """The choices of each tag by what it says; they are the same for every attempt."""

    def __init__(self, wanted: Sequence[Wanted], ground: Ground) -> None:
        self.wanted = wanted
        self.ground = ground
        self._near: dict[tuple[int, float, float], _Choice] = {}

    def near(self, index: int, said: Lettering) -> _Choice:
        """Round the anchor."""
        key = (index, said.width, said.height)
        if key not in self._near:
            boxes, distances = _candidates(self.wanted[index].anchor, said.width, said.height)
            inside = Taken(self.ground.width, self.ground.height).free(boxes)
            self._near[key] = self.judged(index, boxes[inside], distances[inside])
        return self._near[key]

    def judged(self, index: int, boxes: Floats, distances: Floats) -> _Choice:
        anchor = self.wanted[index].anchor
        leaders, lengths = _leaders(anchor, boxes)
        costs: Floats = AWAY * (distances + np.maximum(0.0, distances - FAR))
        costs += self.ground.cost_of_covering(boxes)
        past = np.hypot(*np.moveaxis(leaders - np.array(anchor), -1, 0)) > NEAR
        on_lines = (self.ground.on_line(leaders) & past).sum(axis=1)
        costs += CROSSED * lengths / leaders.shape[1] * on_lines
        costs += ALONG * ((on_lines > 0.6 * past.sum(axis=1)) | self._goes_on(index, leaders))
        return _Choice(boxes, leaders, costs)

    def _goes_on(self, index: int, leaders: Floats) -> Flags:
        """Which leaders run in the direction of a stroke that they start from, forward or back."""
        want = self.wanted[index]
        x, y = np.moveaxis(leaders[:, -1] - np.array(want.anchor), -1, 0)
        headings = np.degrees(np.arctan2(y, x))
        hidden = np.zeros(len(leaders), dtype=np.bool_)
        for way in want.ways:
            hidden |= np.abs((headings - way + 90) % 180 - 90) < ASIDE
        return hidden


class _Attempt:
    """One run through the tags; `stuck` is the first that found no place."""

    def __init__(self, choices: _Choices, said: Sequence[Lettering], *, last: bool) -> None:
        self.choices = choices
        self.wanted = choices.wanted
        self.said = said
        self.taken = Taken(choices.ground.width, choices.ground.height)
        self.placed: dict[int, Placed] = {}
        self.stuck: int | None = None
        for index in sorted(range(len(self.wanted)), key=self._turn):
            position = self._ride(index) or self._search(index)
            if position is None and last:
                position = self._anywhere(index)
            if position is None:
                self.stuck = index
                return
            self.placed[index] = position
            self.taken.add(position.box, position.leader)

    def in_order(self) -> tuple[Placed, ...]:
        return tuple(self.placed[index] for index in range(len(self.wanted)))

    def _turn(self, index: int) -> tuple[int, int, float, float, int]:
        """Letters on lines first, from left to right, then numbers, then words, from top to bottom."""
        want, said = self.wanted[index], self.said[index]
        x, y = want.anchor
        if want.along is not None and not said.runs:
            return (0, 0, x, y, index)
        return (1, 0 if any(run.role == "value" for run in said.runs) else 1, y, x, index)

    def _ride(self, index: int) -> Placed | None:
        """A lone letter on its line at the anchor, dropped past others, or else raised.

        Where it can it keeps clear of signs and of the body's telling parts.
        """
        want, said = self.wanted[index], self.said[index]
        if want.along is None or said.runs:
            return None
        places = np.array(list(_steps(want.anchor, want.along)))
        half = np.array([said.width / 2, said.height / 2])
        boxes = np.concatenate([places - half, places + half], axis=1)
        free = np.flatnonzero(self.taken.free(boxes))
        if not len(free):
            return None
        best = free[int(np.argmin(self.choices.ground.cost_of_hiding(boxes[free])))]  # the first of the least
        (x, y), (left, top, right, bottom) = places[best].tolist(), boxes[best].tolist()
        return Placed(said, (x, y), (left, top, right, bottom), None)

    def _search(self, index: int) -> Placed | None:
        said = self.said[index]
        return self._cheapest(index, self.choices.near(index, said), _dearest(said))

    def _anywhere(self, index: int) -> Placed:
        """A free place anywhere in the picture, or else the one that covers least of other tags."""
        said, anchor = self.said[index], self.wanted[index].anchor
        boxes, under = self.taken.anywhere(said.width, said.height)
        middles = (boxes[:, :2] + boxes[:, 2:]) / 2
        distances = np.hypot(*(middles - np.array(anchor)).T)
        nearest = np.argsort(distances + np.where(under, np.inf, 0.0), kind="stable")
        nearest = nearest[: DIRECTIONS * len(DISTANCES)]
        choice = self.choices.judged(index, boxes[nearest], distances[nearest])
        best = self._cheapest(index, choice, math.inf)
        return best or self._made(index, boxes[int(np.argmin(under + 0.001 * distances))])

    def _cheapest(self, index: int, choice: _Choice, dearest: float) -> Placed | None:
        free = self.taken.free(choice.boxes)
        if not free.any():
            return None
        boxes = choice.boxes[free]
        costs = choice.costs[free] + COVERED * self.taken.leader_points_under(boxes, LINE)
        costs += CROSSED_TAG * self.taken.crossed(choice.leaders[free])
        best = int(np.argmin(costs))
        return self._made(index, boxes[best]) if costs[best] <= dearest else None

    def _made(self, index: int, box: Floats) -> Placed:
        anchor = self.wanted[index].anchor
        left, top, right, bottom = (float(value) for value in box)
        placed = Placed(self.said[index], anchor, (left, top, right, bottom), None)
        return (
            placed
            if math.dist(anchor, placed.pin) <= LEADER_FROM
            else replace(placed, leader=(anchor, placed.pin))
        )


def _dearest(said: Lettering) -> float:
    """The most that a place may cost for all this to be said."""
    return min((TOO_DEAR[run.role] for run in said.runs if run.role in TOO_DEAR), default=math.inf)


def _candidates(anchor: Point, width: float, height: float) -> tuple[Floats, Floats]:
    """Boxes (192, 4) round the anchor and their distances (192,), the nearest first."""
    turns = np.arange(DIRECTIONS) * (2 * math.pi / DIRECTIONS)
    distances = np.repeat(np.array(DISTANCES), DIRECTIONS)
    cos, sin = np.tile(np.cos(turns), len(DISTANCES)), np.tile(np.sin(turns), len(DISTANCES))
    x = anchor[0] + cos * (distances + width / 2)
    y = anchor[1] + sin * (distances + height / 2)
    boxes = np.stack([x - width / 2, y - height / 2, x + width / 2, y + height / 2], axis=1)
    return np.round(boxes, 3), distances


def _leaders(anchor: Point, boxes: Floats) -> tuple[Floats, Floats]:
    """Points (m, 12, 2) along the leader from the anchor to each box, and the leaders' lengths (m,)."""
    start = np.array(anchor)
    ends = np.clip(start, boxes[:, :2], boxes[:, 2:])
    shares = np.linspace(0.0, 1.0, 13)[1:]
    points: Floats = start + shares[None, :, None] * (ends - start)[:, None, :]
    return points, np.hypot(*(ends - start).T)


def _steps(anchor: Point, along: tuple[Point, Point]) -> Iterator[Point]:
    """Places on the line: the anchor, then down by steps of DROP, then up."""
    (ax, ay), (bx, by) = along
    length = math.dist(*along)
    if length == 0:
        yield anchor
        return
    ux, uy = (bx - ax) / length, (by - ay) / length
    at = min(max((anchor[0] - ax) * ux + (anchor[1] - ay) * uy, 0.0), length)
    downward = (at + DROP * k for k in range(int((length - at) / DROP) + 1))
    upward = (at - DROP * k for k in range(1, int(at / DROP) + 1))
    for places in (downward, upward):
        for position in places:
            yield (ax + ux * position, ay + uy * position)
