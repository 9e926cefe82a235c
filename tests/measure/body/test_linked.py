"""Depths that lengths link, beside a plain search through all of them at once."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from lessonpress.measure.body.linked import Link, Linked, Place, below

CAMERA = 4.3  # m
PLACES = {
    "wrist": Place(-0.40, 0.62, 0.24, 0.16),
    "grip": Place(-0.44, 0.66, 0.24, math.inf),
    "head": Place(0.16, 0.90, 0.28, 0.30),
    "elbow": Place(-0.31, 0.44, 0.10, 0.17),
}
LINKS = (
    Link("wrist", "grip", 0.095, 0.03),
    Link("grip", "head", 0.83, 0.03),
    Link("wrist", "elbow", 0.25, 0.03),
)
DRAWS = 20_000


def drawn(marks: tuple[str, ...] = tuple(PLACES)) -> dict[str, np.ndarray]:
    rng = np.random.default_rng(5)
    normals = {mark: rng.standard_normal(DRAWS) for mark in PLACES}
    return Linked(PLACES, "wrist", LINKS, CAMERA).drawn(marks, normals.__getitem__)


def searched() -> tuple[np.ndarray, dict[str, np.ndarray]]:
    """Every combination of depths 3 cm apart, and how likely it is: distances between points in space."""
    ways = {mark: np.arange(-0.4, 0.85, 0.03) for mark in PLACES} | {"head": np.arange(-1.0, 1.55, 0.03)}
    marks = list(PLACES)
    depths = dict(
        zip(marks, np.meshgrid(*(ways[mark] for mark in marks), indexing="ij", sparse=True), strict=True)
    )

    def point(mark: str) -> list[np.ndarray]:
        near = (CAMERA - depths[mark]) / CAMERA
        return [PLACES[mark].across * near, PLACES[mark].up * near, depths[mark]]

    square = sum(((depths[mark] - one.depth) / one.u) ** 2 for mark, one in PLACES.items())
    for link in LINKS:
        apart = np.sqrt(sum((a - b) ** 2 for a, b in zip(point(link.inner), point(link.outer), strict=True)))
        square = square + ((apart - link.length) / link.v) ** 2
    likely = np.exp(-np.asarray(square) / 2)
    return likely / likely.sum(), {mark: np.broadcast_to(depths[mark], likely.shape) for mark in marks}


def test_linked_depths_are_those_of_a_plain_search() -> None:
    """Means to 1.5 cm, spreads to a twentieth, and how each two go together to a twentieth as well."""
    likely, depths = searched()
    found = drawn()
    means = {mark: float((likely * depth).sum()) for mark, depth in depths.items()}
    spreads = {
        mark: math.sqrt(float((likely * (depth - means[mark]) ** 2).sum())) for mark, depth in depths.items()
    }
    for mark in PLACES:
        assert np.mean(found[mark]) == pytest.approx(means[mark], abs=0.015), mark
        assert np.std(found[mark]) == pytest.approx(spreads[mark], rel=0.05), mark
    for a, b in itertools.combinations(PLACES, 2):
        together = float((likely * (depths[a] - means[a]) * (depths[b] - means[b])).sum())
        known = together / spreads[a] / spreads[b]
        assert np.corrcoef(found[a], found[b])[0, 1] == pytest.approx(known, abs=0.05), (a, b)


def test_both_ways_that_a_club_may_point_are_drawn_as_often_as_they_are_likely() -> None:
    likely, depths = searched()
    found = drawn()
    toward = float(likely[depths["head"] > depths["grip"]].sum())
    assert 0.1 < toward < 0.9
    assert np.mean(found["head"] > found["grip"]) == pytest.approx(toward, abs=0.02)


def test_a_mark_alone_asks_for_no_more_than_lies_between_it_and_the_root() -> None:
    """And its depths are those that it has among all."""
    few = drawn(("head",))
    assert few.keys() == {"wrist", "grip", "head"}
    assert np.array_equal(few["head"], drawn()["head"])


def test_the_normal_distribution() -> None:
    """Any table of it: 0.025 lies below −1.95996, 0.8413 below 1."""
    assert below(np.array([-1.95996, 0.0, 1.0])) == pytest.approx([0.025, 0.5, 0.84134], abs=1e-5)
