"""The geometric circle fit against its published example and scipy's least squares."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from lessonpress.measure.formulas.circle_fit import circle

PUBLISHED = np.array([(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)], dtype=float)


def fitted(points: np.ndarray) -> tuple[float, float, float]:
    a, b, r = circle(points[:, :1], points[:, 1:])
    return float(a[0]), float(b[0]), float(r[0])


def test_the_published_geometric_fit_is_found() -> None:
    """Gander, Golub and Strebel 1994: centre (4.7398, 2.9835), r = 4.7142.

    The algebraic fits of the same points, centre (5.3794, 7.2532) or (4.742, 3.835), are not it. From memory,
    recomputed with scipy.
    """
    assert fitted(PUBLISHED) == pytest.approx((4.7398, 2.9835, 4.7142), abs=5e-5)


@given(st.integers(0, 2**32 - 1), st.floats(0.6, 6.2))
def test_noisy_arcs_agree_with_scipy(seed: int, arc: float) -> None:
    """scipy.optimize.least_squares on the distances finds no better circle."""
    generator = np.random.default_rng(seed)
    turns = np.linspace(0, arc, 25)
    points = np.column_stack([3 + 2 * np.cos(turns), -1 + 2 * np.sin(turns)])
    points += generator.normal(0, 0.01, points.shape)
    found = fitted(points)

    def distances(c: np.ndarray) -> np.ndarray:
        return np.hypot(points[:, 0] - c[0], points[:, 1] - c[1]) - c[2]

    best = least_squares(distances, (3, -1, 2), xtol=1e-14, ftol=1e-14, gtol=1e-14)
    assert found == pytest.approx(tuple(best.x), rel=1e-4, abs=1e-4)


@given(st.floats(-10, 10), st.floats(-10, 10), st.floats(0.1, 50), st.floats(0, 6.28))
def test_a_circle_moves_turns_and_grows_with_its_points(x: float, y: float, size: float, turn: float) -> None:
    """Shifting, scaling and turning all points does the same to the circle."""
    z = (PUBLISHED[:, 0] + 1j * PUBLISHED[:, 1]) * size * np.exp(1j * turn) + complex(x, y)
    centre = complex(*fitted(PUBLISHED)[:2]) * size * np.exp(1j * turn) + complex(x, y)
    a, b, r = fitted(np.column_stack([z.real, z.imag]))
    assert complex(a, b) == pytest.approx(centre, abs=1e-5 * size + 1e-8)
    assert r == pytest.approx(4.7142 * size, rel=1e-4)


def test_many_circles_are_fitted_at_once() -> None:
    """Each column of a batch gives what it gives alone."""
    batch = np.stack([PUBLISHED, PUBLISHED * 2 + 1], axis=-1)
    a, b, r = circle(batch[:, 0], batch[:, 1])
    assert (a[1], b[1], r[1]) == pytest.approx(fitted(PUBLISHED * 2 + 1))


def test_points_on_a_line_have_no_circle() -> None:
    """A straight row of points gives nan, never a circle of plausible size."""
    line = np.column_stack([np.arange(6.0), 2 * np.arange(6.0)])
    assert np.isnan(fitted(line)).all()
