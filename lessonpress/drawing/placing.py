"""Finding each tag a place: deterministic, never over another tag, never at the picture's edge.

A tag is tried in 24 directions and at 8 distances from what it names. Covering marks and lines costs, and
so do the body's telling parts, distance, and a leader that runs over lines. Where a plate is too dense,
tags give up words, then ±, then the value, never the letter.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lessonpress.drawing.layout import Box
from lessonpress.drawing.tags import Lettering
from lessonpress.overlays.shapes import Point

Floats = NDArray[np.float64]

DIRECTIONS = 24
DISTANCES = (16.0, 24.0, 34.0, 46.0, 62.0, 80.0, 104.0, 130.0)  # CSS px from the anchor
TAG_GAP = 4.0  # between tags
EDGE_GAP = 5.0  # between a tag and the picture's edge
DROP = 26.0  # how far a letter on a line moves down for one beside it
COVERED = 14.0  # cost of a point of a mark or line under a tag
COVERED_BODY = 26.0  # cost of a part of the body or the implement's head under a tag
AWAY = 0.5  # cost of a CSS px between tag and anchor
FAR = 46.0  # CSS px from the anchor beyond which a px costs twice as much
CROSSED = 3.0  # cost of a CSS px of a leader that runs on a mark or a line
LINE = 4.0  # CSS px within which a point of a line is under a tag or a leader
CROSSED_TAG = 400.0  # cost of a leader under another tag
NEAR = 10.0  # CSS px round the anchor where a leader cannot but lie on what it names
# the cost above which it is better to give up words or ±; a value is given up only for want of room
TOO_DEAR = {"words": 120.0, "pm": 200.0}
LEADER_FROM = 5.0  # a tag nearer than this to what it names has no leader
NEIGHBOUR = 150.0  # CSS px within which tags stand in each other's way
ROLES = ("words", "pm", "value")  # in the order in which they are given up


@dataclass(frozen=True)
class Wanted:
    """A tag that wants a place, in CSS px.

    along: the visible part of the line a lone letter may ride on, upper end first, or None.
    """

    said: Lettering
    anchor: Point
    along: tuple[Point, Point] | None = None

    def alone(self) -> Wanted:
        """The same with its letter alone."""
        return replace(self, said=replace(self.said, runs=()))


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


@dataclass(frozen=True)
class Ground:
    """What tags must reckon with: the frame's size, points of marks and lines, boxes of the body."""

    width: float
    height: float
    busy: Floats  # (n, 2)
    keep_clear: tuple[Box, ...] = ()

    def on_line(self, points: Floats) -> NDArray[np.bool_]:
        """Which of the points (…, 2) lie on or right beside a mark or a line."""
        x = np.clip(points[..., 0], 0, self.width - 1).astype(int)
        y = np.clip(points[..., 1], 0, self.height - 1).astype(int)
        found: NDArray[np.bool_] = self._lines[y, x]
        return found

    @cached_property
    def _lines(self) -> NDArray[np.bool_]:
        """A map of the picture, a cell to a CSS px: true within LINE of a busy point."""
        lines = np.zeros((math.ceil(self.height) + 1, math.ceil(self.width) + 1), dtype=np.bool_)
        for x, y in self.busy:
            left, top = max(0, round(x - LINE)), max(0, round(y - LINE))
            lines[top : max(0, round(y + LINE)), left : max(0, round(x + LINE))] = True
        return lines


def place_tags(wanted: Sequence[Wanted], ground: Ground) -> tuple[Placed, ...]:
    """A place for every tag, in the order given.

    Where even lone letters do not fit, those that are left are put where they cover the least.
    """
    said = [want.said for want in wanted]
    while True:
        attempt = _Attempt(wanted, said, ground, last=False)
        if attempt.stuck is None:
            return attempt.in_order()
        if not _give_up(said, wanted, attempt.stuck):
            return _Attempt(wanted, said, ground, last=True).in_order()


def _give_up(said: list[Lettering], wanted: Sequence[Wanted], stuck: int) -> bool:
    """Let one tag say less: the stuck one or its neighbours, words first. False when all are lone letters."""
    near = sorted(range(len(said)), key=lambda i: (math.dist(wanted[i].anchor, wanted[stuck].anchor), i))
    close = [i for i in near if math.dist(wanted[i].anchor, wanted[stuck].anchor) <= NEIGHBOUR]
    for group in (close, near):
        for role in ROLES:
            for i in group:
                if any(run.role == role for run in said[i].runs):
                    said[i] = said[i].gives_up(role)
                    return True
    return False


class _Attempt:
    """One run through the tags; `stuck` is the first that found no place."""

    def __init__(
        self, wanted: Sequence[Wanted], said: Sequence[Lettering], ground: Ground, *, last: bool
    ) -> None:
        self.ground = ground
        self.wanted = wanted
        self.said = said
        self.last = last
        self.placed: dict[int, Placed] = {}
        self.stuck: int | None = None
        for index in sorted(range(len(wanted)), key=self._turn):
            place = self._ride(index) or self._search(index)
            if place is None and last:
                place = self._anywhere(index)
            if place is None:
                self.stuck = index
                return
            self.placed[index] = place

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
        """A lone letter on its line at the anchor, dropped past others, or else raised."""
        want, said = self.wanted[index], self.said[index]
        if want.along is None or said.runs:
            return None
        half_w, half_h = said.width / 2, said.height / 2
        for x, y in _steps(want.anchor, want.along):
            box = (x - half_w, y - half_h, x + half_w, y + half_h)
            if self._free(np.array([box]))[0]:
                return Placed(said, (x, y), box, None)
        return None

    def _search(self, index: int) -> Placed | None:
        said, anchor = self.said[index], self.wanted[index].anchor
        boxes, distances = _candidates(anchor, said.width, said.height)
        return self._cheapest(index, boxes, distances, _dearest(said))

    def _anywhere(self, index: int) -> Placed | None:
        """A free place anywhere in the picture, or else the one that covers least of other tags."""
        said, anchor = self.said[index], self.wanted[index].anchor
        width, height = said.width, said.height
        xs = np.arange(EDGE_GAP, max(EDGE_GAP, self.ground.width - EDGE_GAP - width) + 0.01, 6.0)
        ys = np.arange(EDGE_GAP, max(EDGE_GAP, self.ground.height - EDGE_GAP - height) + 0.01, 6.0)
        left, top = (grid.ravel() for grid in np.meshgrid(xs, ys))
        boxes = np.stack([left, top, left + width, top + height], axis=1)
        distances = np.hypot(left + width / 2 - anchor[0], top + height / 2 - anchor[1])
        found = self._cheapest(index, boxes, distances, math.inf)
        if found is not None:
            return found
        taken = np.array([place.box for place in self.placed.values()])
        best = int(np.argmin(_overlap(boxes, taken) + 0.01 * distances))
        return self._made(index, boxes[best])

    def _cheapest(self, index: int, boxes: Floats, distances: Floats, dearest: float) -> Placed | None:
        free = self._free(boxes)
        boxes, distances = boxes[free], distances[free]
        if not len(boxes):
            return None
        costs = self._costs(self.wanted[index].anchor, boxes, distances)
        best = int(np.argmin(costs))
        return self._made(index, boxes[best]) if costs[best] <= dearest else None

    def _made(self, index: int, box: Floats) -> Placed:
        anchor = self.wanted[index].anchor
        left, top, right, bottom = (float(value) for value in box)
        end = (min(max(anchor[0], left), right), min(max(anchor[1], top), bottom))
        leader = (anchor, end) if math.dist(anchor, end) > LEADER_FROM else None
        return Placed(self.said[index], anchor, (left, top, right, bottom), leader)

    def _free(self, boxes: Floats) -> NDArray[np.bool_]:
        """Which boxes lie inside the frame and clear of the tags placed so far."""
        ground = self.ground
        free = (
            (boxes[:, 0] >= EDGE_GAP)
            & (boxes[:, 1] >= EDGE_GAP)
            & (boxes[:, 2] <= ground.width - EDGE_GAP)
            & (boxes[:, 3] <= ground.height - EDGE_GAP)
        )
        for place in self.placed.values():
            left, top, right, bottom = place.box
            free &= (
                (boxes[:, 0] >= right + TAG_GAP)
                | (boxes[:, 2] <= left - TAG_GAP)
                | (boxes[:, 1] >= bottom + TAG_GAP)
                | (boxes[:, 3] <= top - TAG_GAP)
            )
        return free

    def _costs(self, anchor: Point, boxes: Floats, distances: Floats) -> Floats:
        costs: Floats = AWAY * (distances + np.maximum(0.0, distances - FAR))
        costs += COVERED * _covered(boxes, self.ground.busy, LINE)
        leaders = [place.leader for place in self.placed.values() if place.leader]
        if leaders:
            costs += COVERED * _covered(boxes, np.concatenate([_along(*leader) for leader in leaders]), LINE)
        for box in self.ground.keep_clear:
            costs += COVERED_BODY * _touches(boxes, box)
        return costs + self._leader_costs(anchor, boxes)

    def _leader_costs(self, anchor: Point, boxes: Floats) -> Floats:
        """What the leaders from the anchor to each box would run over, past what lies at the anchor."""
        start = np.array(anchor)
        ends = np.stack(
            [np.clip(anchor[0], boxes[:, 0], boxes[:, 2]), np.clip(anchor[1], boxes[:, 1], boxes[:, 3])],
            axis=1,
        )
        shares = np.linspace(0.0, 1.0, 13)[1:]
        points = start + shares[None, :, None] * (ends - start)[:, None, :]
        costs = np.zeros(len(boxes))
        for place in self.placed.values():
            left, top, right, bottom = place.box
            under = (
                (points[..., 0] > left)
                & (points[..., 0] < right)
                & (points[..., 1] > top)
                & (points[..., 1] < bottom)
            )
            costs += CROSSED_TAG * under.any(axis=1)
        lengths = np.hypot(*(ends - start).T)
        past = shares[None, :] * lengths[:, None] > NEAR
        on_lines = (self.ground.on_line(points) & past).sum(axis=1)
        costs += CROSSED * lengths / len(shares) * on_lines
        return costs


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
        for place in places:
            yield (ax + ux * place, ay + uy * place)


def _covered(boxes: Floats, points: Floats, margin: float) -> Floats:
    """How many of the points (n, 2) lie within `margin` of each box."""
    if not len(points):
        return np.zeros(len(boxes))
    x, y = points[:, 0], points[:, 1]
    inside = (
        (x > boxes[:, 0:1] - margin)
        & (x < boxes[:, 2:3] + margin)
        & (y > boxes[:, 1:2] - margin)
        & (y < boxes[:, 3:4] + margin)
    )
    counts: Floats = inside.sum(axis=1).astype(np.float64)
    return counts


def _touches(boxes: Floats, box: Box) -> NDArray[np.bool_]:
    left, top, right, bottom = box
    touching: NDArray[np.bool_] = (
        (boxes[:, 0] < right) & (boxes[:, 2] > left) & (boxes[:, 1] < bottom) & (boxes[:, 3] > top)
    )
    return touching


def _overlap(boxes: Floats, taken: Floats) -> Floats:
    """The area of each box that lies under the boxes taken."""
    wide = np.minimum(boxes[:, None, 2], taken[None, :, 2]) - np.maximum(boxes[:, None, 0], taken[None, :, 0])
    high = np.minimum(boxes[:, None, 3], taken[None, :, 3]) - np.maximum(boxes[:, None, 1], taken[None, :, 1])
    area: Floats = (np.clip(wide, 0, None) * np.clip(high, 0, None)).sum(axis=1)
    return area


def _along(a: Point, b: Point) -> Floats:
    count = max(2, int(math.dist(a, b) / 10) + 1)
    line: Floats = np.linspace(a, b, count)
    return line
