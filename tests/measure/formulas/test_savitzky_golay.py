"""The derivative filter against its published table and what it does to a circle."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.signal import savgol_coeffs

from lessonpress.measure.formulas.savitzky_golay import reading, weights

FIVE = np.arange(-2.0, 3.0)


def test_the_published_table_for_five_points_is_found() -> None:
    """Savitzky and Golay 1964, five points, parabola: smoothing (−3 12 17 12 −3)/35, slope (−2 −1 0 1 2)/10.

    From memory, recomputed with scipy.
    """
    assert weights(FIVE, 2, 0) * 35 == pytest.approx([-3, 12, 17, 12, -3])
    assert weights(FIVE, 2, 1) * 10 == pytest.approx([-2, -1, 0, 1, 2], abs=1e-12)
    assert weights(FIVE, 4, 1) * 12 == pytest.approx([1, -8, 0, 8, -1], abs=1e-12)


@pytest.mark.parametrize("degree", [2, 4])
@pytest.mark.parametrize("at", range(5))
def test_one_sided_windows_agree_with_scipy(degree: int, at: int) -> None:
    """scipy.signal.savgol_coeffs for every place of a window of five."""
    assert weights(FIVE + 2 - at, degree, 1) == pytest.approx(
        savgol_coeffs(5, degree, deriv=1, pos=at, use="dot"), abs=1e-9
    )


@pytest.mark.parametrize(("turn", "low"), [(10, 0.017), (15, 0.038), (20, 0.067)])
def test_a_circle_is_read_low_by_the_parabola(turn: float, low: float) -> None:
    """By φ²/6 × 3.4: 1.7 % at 10°, 3.8 % at 15°, 6.7 % at 20° (computed)."""
    read = 1 - reading(math.radians(turn), FIVE, 2)
    assert read == pytest.approx(low, abs=6e-4)
    assert read == pytest.approx(math.radians(turn) ** 2 / 6 * 3.4, rel=0.05)


def test_a_circle_is_hardly_read_low_by_the_quartic() -> None:
    """By 0.05 % at 20°, for three times the noise of the parabola (computed)."""
    assert 1 - reading(math.radians(20), FIVE, 4) == pytest.approx(5e-4, abs=1e-4)
    noise = [float(np.hypot.reduce(weights(FIVE, degree, 1))) for degree in (2, 4)]
    assert noise[1] / noise[0] == pytest.approx(3.0, abs=0.05)


@given(st.lists(st.floats(-5, 5), min_size=3, max_size=3), st.floats(0.001, 10))
def test_a_parabola_s_slope_is_exact_at_uneven_times(terms: list[float], unit: float) -> None:
    """Least squares returns what it was given, whatever the spacing."""
    times = np.array([-2.2, -0.9, 0.0, 1.3, 1.9]) * unit
    places = terms[0] + terms[1] * times + terms[2] * times**2
    assert weights(times, 2, 1) @ places == pytest.approx(terms[1], abs=1e-6 * (1 + unit))
