"""What tags must reckon with on a picture: marks, lines and parts of the body, kept so that asking is cheap.

Points are counted on a map with a cell to each CSS px, of which only the rows and columns that hold points
are kept, and its running sums (a summed-area table: Crow 1984, "Summed-area tables for texture mapping",
SIGGRAPH 84), so that how many lie under a tag takes hardly more time for ten thousand points than for ten. A
drawing for a close view can be tens of thousands of px wide; its cells are larger, so that the map stays
within memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lessonpress.drawing.layout import Box

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Counts = NDArray[np.int64]

MOST_CELLS = 4_000_000  # of a map: one to a px up to 2,000 by 2,000
LINE = 4.0  # CSS px within which a point of a line is under a tag or a leader
COVERED = 14.0  # cost of a point of a mark or line under a tag
COVERED_SIGN = 40.0  # cost of a sign under a tag, besides that of the line it ends
COVERED_BODY = 90.0  # cost of a part of the body or the implement's head under a tag


@dataclass(frozen=True)
class Ground:
    """A picture for tags to lie on, in CSS px: its size, points of lines and marks, body boxes, signs."""

    width: float
    height: float
    busy: Floats  # (n, 2)
    keep_clear: tuple[Box, ...] = ()
    signs: Floats = field(default_factory=lambda: np.empty((0, 2)))

    def on_line(self, points: Floats) -> Flags:
        """Which of the points (…, 2) lie on or right beside a mark or a line."""
        x = np.clip(points[..., 0], 0, self.width - 1) / self._cell
        y = np.clip(points[..., 1], 0, self.height - 1) / self._cell
        flags: Flags = self._lines[y.astype(int), x.astype(int)]
        return flags

    def cost_of_covering(self, boxes: Floats) -> Floats:
        """What it costs to lay a tag over each of the boxes (m, 4)."""
        costs: Floats = COVERED * self._under(boxes, self._busy_counted).astype(np.float64)
        return costs + self.cost_of_hiding(boxes)

    def cost_of_hiding(self, boxes: Floats) -> Floats:
        """The part of it that is for signs and for what of the body should be seen."""
        costs: Floats = COVERED_SIGN * self._under(boxes, self._signs_counted).astype(np.float64)
        for box in self.keep_clear:
            costs += COVERED_BODY * touches(boxes, box)
        return costs

    @cached_property
    def _cell(self) -> float:
        """The side of a map's cell, CSS px."""
        return max(1.0, math.sqrt(self.width * self.height / MOST_CELLS))

    @cached_property
    def _busy_counted(self) -> _Counted:
        return self._counted(self.busy)

    @cached_property
    def _signs_counted(self) -> _Counted:
        return self._counted(self.signs)

    def _counted(self, points: Floats) -> _Counted:
        """The points on each cell; those outside the picture are left out."""
        within = (points >= 0).all(axis=1) & (points[:, 0] < self.width) & (points[:, 1] < self.height)
        seen = (points[within] / self._cell).astype(int)
        columns, column_of = np.unique(seen[:, 0], return_inverse=True)
        rows, row_of = np.unique(seen[:, 1], return_inverse=True)
        counts = np.zeros((len(rows), len(columns)), dtype=np.int64)
        np.add.at(counts, (row_of, column_of), 1)
        return _Counted(columns, rows, running_sums(counts))

    def _under(self, boxes: Floats, counted: _Counted) -> Counts:
        """How many points lie within LINE of each box, to the nearest cell."""
        start, end = boxes[:, :2] - LINE, boxes[:, 2:] + LINE
        return counted.between(np.rint(start / self._cell), np.rint(end / self._cell))

    @cached_property
    def _lines(self) -> Flags:
        """A map of the picture: true within LINE of a busy point."""
        rows, columns = self._cells
        lines = np.zeros((rows + 1, columns + 1), dtype=np.bool_)
        ends = np.rint(np.stack([self.busy - LINE, self.busy + LINE], axis=1) / self._cell).astype(int)
        within = (ends[:, 1] > 0).all(axis=1)
        for (left, top), (right, bottom) in np.maximum(0, ends[within]):
            lines[top : max(bottom, top + 1), left : max(right, left + 1)] = True
        return lines

    @property
    def _cells(self) -> tuple[int, int]:
        """Rows and columns of a map."""
        return math.ceil(self.height / self._cell), math.ceil(self.width / self._cell)


@dataclass(frozen=True)
class _Counted:
    """How many points lie on the cells of a map. columns, rows: those with points on them, ascending.

    sums: running sums over these alone.
    """

    columns: Counts
    rows: Counts
    sums: Counts

    def between(self, start: Floats, end: Floats) -> Counts:
        """The points in each window of cells from start (m, 2) up to end, which is not included."""
        (left, top), (right, bottom) = (
            (np.searchsorted(self.columns, corner[:, 0]), np.searchsorted(self.rows, corner[:, 1]))
            for corner in (start, end)
        )
        return window_sums(self.sums, left, top, right, bottom)


def running_sums(counts: Counts | Flags) -> Counts:
    """Sums (rows + 1, columns + 1) of all cells above and left of each corner of a map (rows, columns)."""
    sums = np.zeros((counts.shape[0] + 1, counts.shape[1] + 1), dtype=np.int64)
    sums[1:, 1:] = counts.cumsum(axis=0, dtype=np.int64).cumsum(axis=1)
    return sums


def window_sums(sums: Counts, left: Counts, top: Counts, right: Counts, bottom: Counts) -> Counts:
    """The sum of the cells in each window, from left and top up to right and bottom, these not included."""
    counts: Counts = sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left]
    return counts


def touches(boxes: Floats, box: Box) -> Flags:
    """Which of the boxes (m, 4) overlap the one."""
    left, top, right, bottom = box
    touching: Flags = (
        (boxes[:, 0] < right) & (boxes[:, 2] > left) & (boxes[:, 1] < bottom) & (boxes[:, 3] > top)
    )
    return touching
