"""Depths of marks that are linked by known lengths: how likely each is, all of them taken together.

Each mark lies on its ray at a depth that is known as m ± σ by itself, and each link says how far its two ends
are from each other in space, as ℓ ± v. Both are laid out over grids. Links form a tree, so that what all that
hangs on a mark says of its depth is summed up from the outermost marks inward, and depths are drawn from the
root outward, each given the one before it. So every answer that lengths leave stays, with its weight.
Source: sums of products on a tree, C. M. Bishop, Pattern Recognition and Machine Learning 2006, 8.4.4; draws
one after the other by conditional distributions, M. Rosenblatt, Annals of Mathematical Statistics 23 (1952).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.measure.formulas.arrays import FloatArray

Grid = NDArray[np.float64]
REACH = 4.5  # σ or v that a grid goes to either side
STEP, LEAST, MOST = 0.012, 61, 301  # m from node to node, as long as so many nodes do


@dataclass(frozen=True)
class Place:
    """A mark. across, up: where its ray meets the subject plane, m. depth ± u: by itself, m; inf for none."""

    across: float
    up: float
    depth: float
    u: float


@dataclass(frozen=True)
class Link:
    """A known length between two marks, ± v, m. inner: the end that is nearer to the root."""

    inner: str
    outer: str
    length: float
    v: float


def distance(a: Place, a_depth: Grid, b: Place, b_depth: Grid, camera: float) -> Grid:
    """How far two places are from each other in space at these depths, m."""
    near_a, near_b = 1 - a_depth / camera, 1 - b_depth / camera
    across, up = b.across * near_b - a.across * near_a, b.up * near_b - a.up * near_a
    return np.asarray(np.sqrt(across**2 + up**2 + (b_depth - a_depth) ** 2))


class Linked:
    """Marks linked to a root, whose own depth must be known. links: from the root outward.

    camera: how far it is from the subject plane, m.
    """

    def __init__(self, places: Mapping[str, Place], root: str, links: Sequence[Link], camera: float) -> None:
        self.root, self.links = root, tuple(links)
        self._inner = {link.outer: link.inner for link in links}
        self._grids = {root: _grid(places[root], None)}
        for link in links:
            self._grids[link.outer] = _grid(places[link.outer], _within(self._grids[link.inner], link))
        say = {mark: _alone(places[mark], grid) for mark, grid in self._grids.items()}
        self._given: dict[str, Grid] = {}
        for link in reversed(links):  # what hangs on the outer end is all in `say` by now
            inner, outer = self._grids[link.inner], self._grids[link.outer]
            apart = distance(places[link.inner], inner[:, None], places[link.outer], outer, camera)
            likely = say[link.outer] - ((apart - link.length) / link.v) ** 2 / 2
            most = likely.max(axis=1, keepdims=True)
            density = np.exp(likely - most)
            say[link.inner] = say[link.inner] + most[:, 0] + np.log(density.sum(axis=1))
            self._given[link.outer] = _summed(density)
        self._of_root = _summed(np.exp(say[root] - say[root].max())[None])[0]

    def drawn(self, marks: Sequence[str], normals: Callable[[str], FloatArray]) -> dict[str, FloatArray]:
        """Depths of marks, m, and of those between them and the root.

        normals: a standard normal number in each row for each mark. A depth is that below which as much of
        its distribution lies, given the depth before it, as of a normal one below its number.
        """
        depths: dict[str, FloatArray] = {}
        for mark in self._way(marks):
            wanted = below(normals(mark))
            if mark == self.root:
                depths[mark] = np.interp(wanted, self._of_root, self._grids[mark])
            else:
                depths[mark] = self._outward(mark, depths[self._inner[mark]], wanted)
        return depths

    def _way(self, marks: Sequence[str]) -> list[str]:
        """These marks and all between them and the root, from the root outward."""
        needed = {self.root}
        for mark in marks:
            while mark not in needed:
                needed.add(mark)
                mark = self._inner[mark]
        return [mark for mark in (self.root, *(link.outer for link in self.links)) if mark in needed]

    def _outward(self, mark: str, given: FloatArray, wanted: FloatArray) -> FloatArray:
        """The conditional distribution runs straight from node to node of the inner mark, and is halved."""
        inner, outer, summed = self._grids[self._inner[mark]], self._grids[mark], self._given[mark]
        at = np.clip((given - inner[0]) / (inner[1] - inner[0]), 0, len(inner) - 1)
        row = np.minimum(at.astype(int), len(inner) - 2)
        part = at - row

        def at_node(node: NDArray[np.int_]) -> FloatArray:
            return np.asarray((1 - part) * summed[row, node] + part * summed[row + 1, node])

        low, high = np.zeros(len(row), dtype=int), np.full(len(row), len(outer) - 1)
        for _ in range(math.ceil(math.log2(len(outer)))):
            middle = (low + high) // 2
            short = at_node(middle) < wanted
            low, high = np.where(short, middle, low), np.where(short, high, middle)
        high = np.maximum(high, low + 1)
        under, over = at_node(low), at_node(high)
        between = np.clip((wanted - under) / np.maximum(over - under, np.finfo(float).tiny), 0, 1)
        return np.asarray(outer[low] + between * (outer[high] - outer[low]))


def _grid(place: Place, within: tuple[float, float] | None) -> Grid:
    low, high = place.depth - REACH * place.u, place.depth + REACH * place.u
    if within is not None:
        shared = max(low, within[0]), min(high, within[1])
        low, high = shared if math.isinf(place.u) or shared[1] - shared[0] > place.u else (low, high)
    nodes = min(max(math.ceil((high - low) / STEP) + 1, LEAST), MOST)
    return np.linspace(low, high, nodes)


def _within(inner: Grid, link: Link) -> tuple[float, float]:
    """Where the outer end can be at all."""
    reach = link.length + REACH * link.v
    return float(inner[0]) - reach, float(inner[-1]) + reach


def _alone(place: Place, grid: Grid) -> Grid:
    """The logarithm of what is known of a depth by itself, less a constant."""
    return np.asarray(-(((grid - place.depth) / place.u) ** 2) / 2)


def _summed(density: Grid) -> Grid:
    """The distribution in each row, from 0 to 1."""
    steps = np.cumsum((density[:, 1:] + density[:, :-1]) / 2, axis=1)
    return np.concatenate([np.zeros((len(steps), 1)), steps / steps[:, -1:]], axis=1)


def below(normal: FloatArray) -> FloatArray:
    """How much of the standard normal distribution lies below a number."""
    return np.array([math.erfc(-one / math.sqrt(2)) / 2 for one in normal.tolist()])
