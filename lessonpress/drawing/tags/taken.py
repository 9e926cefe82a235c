"""Where tags lie already on a picture, with their leaders, so that the next one can keep clear of them."""

from __future__ import annotations

import math

import numpy as np

from lessonpress.drawing.layout import Box
from lessonpress.drawing.tags.ground import Counts, Flags, Floats, running_sums, window_sums
from lessonpress.records import Point

EDGE_GAP = 5.0  # CSS px between a tag and the picture's edge
TAG_GAP = 4.0  # between tags
CELL = 6  # CSS px, of the map on which free room anywhere is found
LEADER_STEP = 10.0  # between the points by which a leader is known


class Taken:
    """The tags of a picture so far. Asked about a neighbourhood, it looks at what lies in that alone."""

    def __init__(self, width: float, height: float) -> None:
        self._size = (width, height)
        self._boxes = np.empty((0, 4))
        self._leaders = np.empty((0, 2))
        rows = math.floor((height - 2 * EDGE_GAP) / CELL)
        columns = math.floor((width - 2 * EDGE_GAP) / CELL)
        self._cells = np.zeros((max(rows, 0), max(columns, 0)), dtype=np.bool_)

    def add(self, box: Box, leader: tuple[Point, Point] | None) -> None:
        self._boxes = np.vstack([self._boxes, box])
        if leader is not None:
            self._leaders = np.concatenate([self._leaders, _along(*leader)])
        left, top = (max(0, math.floor((side - TAG_GAP - EDGE_GAP) / CELL)) for side in box[:2])
        right, bottom = (max(0, math.ceil((side + TAG_GAP - EDGE_GAP) / CELL)) for side in box[2:])
        self._cells[top:bottom, left:right] = True

    def free(self, boxes: Floats) -> Flags:
        """Which of the boxes (m, 4) lie inside the picture and clear of the tags."""
        width, height = self._size
        free: Flags = (
            (boxes[:, 0] >= EDGE_GAP)
            & (boxes[:, 1] >= EDGE_GAP)
            & (boxes[:, 2] <= width - EDGE_GAP)
            & (boxes[:, 3] <= height - EDGE_GAP)
        )
        for left, top, right, bottom in self._boxes_near(boxes):
            free &= (
                (boxes[:, 0] >= right + TAG_GAP)
                | (boxes[:, 2] <= left - TAG_GAP)
                | (boxes[:, 1] >= bottom + TAG_GAP)
                | (boxes[:, 3] <= top - TAG_GAP)
            )
        return free

    def leader_points_under(self, boxes: Floats, margin: float) -> Floats:
        """How many points of leaders lie within `margin` of each box."""
        hull = _hull(boxes, margin)
        x, y = self._leaders.T
        near = (x > hull[0]) & (x < hull[2]) & (y > hull[1]) & (y < hull[3])
        x, y = x[near], y[near]
        inside = (
            (x > boxes[:, 0:1] - margin)
            & (x < boxes[:, 2:3] + margin)
            & (y > boxes[:, 1:2] - margin)
            & (y < boxes[:, 3:4] + margin)
        )
        counts: Floats = inside.sum(axis=1).astype(np.float64)
        return counts

    def crossed(self, lines: Floats) -> Floats:
        """How many tags each line (m, points, 2) runs under or along the edge of."""
        counts = np.zeros(len(lines))
        flat = lines.reshape(-1, 2)
        for left, top, right, bottom in self._boxes_near(np.concatenate([flat, flat], axis=1)):
            under = (
                (lines[..., 0] > left - TAG_GAP)
                & (lines[..., 0] < right + TAG_GAP)
                & (lines[..., 1] > top - TAG_GAP)
                & (lines[..., 1] < bottom + TAG_GAP)
            )
            counts += under.any(axis=1)
        return counts

    def anywhere(self, width: float, height: float) -> tuple[Floats, Counts]:
        """Boxes of a size on every cell of the picture, and how many taken cells lie under each."""
        across, down = math.ceil(width / CELL), math.ceil(height / CELL)
        columns = np.arange(max(1, self._cells.shape[1] - across + 1))
        rows = np.arange(max(1, self._cells.shape[0] - down + 1))
        left, top = (grid.ravel() for grid in np.meshgrid(columns, rows))
        sums = running_sums(self._cells)
        right = np.minimum(left + across, self._cells.shape[1])
        bottom = np.minimum(top + down, self._cells.shape[0])
        x, y = EDGE_GAP + CELL * left, EDGE_GAP + CELL * top
        boxes = np.stack([x, y, x + width, y + height], axis=1)
        return boxes, window_sums(sums, left, top, right, bottom)

    def _boxes_near(self, boxes: Floats) -> Floats:
        """The tags that any of the boxes could come near."""
        if not len(boxes):
            return self._boxes[:0]
        left, top, right, bottom = _hull(boxes, TAG_GAP)
        own = self._boxes
        return own[(own[:, 0] < right) & (own[:, 2] > left) & (own[:, 1] < bottom) & (own[:, 3] > top)]


def _hull(boxes: Floats, margin: float) -> Box:
    """One box round all of them, and `margin` more."""
    left, top = boxes[:, :2].min(axis=0) - margin
    right, bottom = boxes[:, 2:].max(axis=0) + margin
    return (float(left), float(top), float(right), float(bottom))


def _along(a: Point, b: Point) -> Floats:
    line: Floats = np.linspace(a, b, max(2, int(math.dist(a, b) / LEADER_STEP) + 1))
    return line
