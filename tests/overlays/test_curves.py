"""The smooth outline, held against a reference library's cubic pieces."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy.interpolate import CubicHermiteSpline

from lessonpress.overlays.parts.curves import STEPS, closed_curve
from lessonpress.records import Point

FOOT = [(720.0, 660.0), (781.0, 684.0), (790.0, 655.0), (731.0, 630.0)]


def test_an_outline_passes_exactly_through_every_mark_in_the_order_written() -> None:
    assert list(closed_curve(FOOT)[::STEPS]) == FOOT


@pytest.mark.parametrize("first", range(len(FOOT)))
def test_each_piece_is_the_cubic_whose_tangents_a_centripetal_spline_has(first: int) -> None:
    """Between two marks: scipy's Hermite cubic with the tangents of an uneven Catmull–Rom spline.

    Source: tangent at a knot = chord slope before − slope across both + slope after (from memory).
    """
    four = np.array([FOOT[(first + offset) % len(FOOT)] for offset in (-1, 0, 1, 2)])
    knots = np.concatenate([[0.0], np.cumsum(np.sqrt(np.linalg.norm(np.diff(four, axis=0), axis=1)))])
    tangents = [_tangent(four[i - 1 : i + 2], knots[i - 1 : i + 2]) for i in (1, 2)]
    cubic = CubicHermiteSpline(knots[1:3], four[1:3], tangents)
    wanted = cubic(knots[1] + np.arange(STEPS) / STEPS * (knots[2] - knots[1]))
    piece = closed_curve(FOOT)[first * STEPS : (first + 1) * STEPS]
    assert np.allclose(piece, wanted, atol=1e-9)


def _tangent(three: np.ndarray, knots: np.ndarray) -> np.ndarray:
    before = (three[1] - three[0]) / (knots[1] - knots[0])
    across = (three[2] - three[0]) / (knots[2] - knots[0])
    after = (three[2] - three[1]) / (knots[2] - knots[1])
    return np.asarray(before - across + after)


def test_marks_evenly_round_a_circle_give_an_outline_close_to_it() -> None:
    """Twelve marks on a circle of 100 px: nowhere more than 0.2 px off it."""
    turns = np.radians(np.arange(0, 360, 30))
    marks: list[Point] = [(float(100 * np.cos(turn)), float(100 * np.sin(turn))) for turn in turns]
    radii = np.linalg.norm(np.array(closed_curve(marks)), axis=1)
    assert np.max(np.abs(radii - 100)) < 0.2


def test_two_marks_on_one_spot_leave_the_outline_finite() -> None:
    curve = closed_curve([(1.0, 1.0), (1.0, 1.0), (5.0, 2.0)])
    assert np.isfinite(np.array(curve)).all()
    assert all(np.hypot(bx - ax, by - ay) < 5 for (ax, ay), (bx, by) in pairwise(curve))
