"""The few rectangles of a drawing that are worth rendering: where ink lies, as far as a glance tells."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Inked = npt.NDArray[np.bool_]  # rows × columns of a glance

_BESIDE = 2  # px of a glance: how far ink may lie from where it was seen
_A_WINDOW = 100_000.0  # px of a drawing that take as long as reading the drawing once more (measured)


class Window(NamedTuple):
    """A part of a glance, px of it: rows from top, columns from left, those at bottom and right left out."""

    top: int
    left: int
    bottom: int
    right: int


def windows(inked: Inked, px: float) -> list[Window]:
    """Windows that hold all ink and do not overlap. px: of the drawing, to one px of the glance, by area.

    A drawing is cut in two, and the parts again, while that leaves out more than another window costs.
    """
    return list(_cut(_with_what_is_beside(inked), Window(0, 0, *inked.shape), _A_WINDOW / px))


def _with_what_is_beside(inked: Inked) -> Inked:
    rows, columns = inked.shape
    padded = np.pad(inked, _BESIDE)
    reach = range(2 * _BESIDE + 1)
    beside = np.logical_or.reduce([padded[:, at : at + columns] for at in reach])
    return np.asarray(np.logical_or.reduce([beside[at : at + rows] for at in reach]))


def _cut(inked: Inked, cell: Window, least: float) -> Iterator[Window]:
    """least: px of the glance that a cut must leave out to be worth it."""
    top, left, bottom, right = cell
    part = inked[top:bottom, left:right]
    rows, columns = np.flatnonzero(part.any(axis=1)), np.flatnonzero(part.any(axis=0))
    if not len(rows):
        return
    (saved, row), (saved_across, column) = _best(part, rows), _best(part.T, columns)
    if max(saved, saved_across) <= least:
        yield Window(
            top + int(rows[0]), left + int(columns[0]), top + int(rows[-1]) + 1, left + int(columns[-1]) + 1
        )
    elif saved >= saved_across:
        yield from _cut(inked, cell._replace(bottom=top + row), least)
        yield from _cut(inked, cell._replace(top=top + row), least)
    else:
        yield from _cut(inked, cell._replace(right=left + column), least)
        yield from _cut(inked, cell._replace(left=left + column), least)


def _best(part: Inked, rows: npt.NDArray[np.intp]) -> tuple[int, int]:
    """How much a cut between two rows leaves out at the most, and before which row that is.

    rows: those that have ink.
    """
    if len(rows) < 2:
        return 0, 0
    seen = part[rows]
    first, last = seen.argmax(axis=1), part.shape[1] - seen[:, ::-1].argmax(axis=1)
    above = np.maximum.accumulate(last) - np.minimum.accumulate(first)
    below = (np.maximum.accumulate(last[::-1]) - np.minimum.accumulate(first[::-1]))[::-1]
    whole = (rows[-1] + 1 - rows[0]) * above[-1]
    area = (rows[:-1] + 1 - rows[0]) * above[:-1] + (rows[-1] + 1 - rows[1:]) * below[1:]
    best = int(area.argmin())
    return int(whole - area[best]), int(rows[best + 1])
