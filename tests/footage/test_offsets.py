"""What is suggested is off by, foretold where it is not known: against other formulas for the same thing.

The film is made up: a body that turns there and back, and errors that go with its posture.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import gamma, kv

from lessonpress.footage.tracking.offsets import (
    ALIKE_LIMBS,
    ALIKE_TRUNK,
    LASTS,
    NOISE,
    STAYS,
    Known,
    alike,
    covariance,
    foretold,
    unlike,
)

SIDE, COUNT = 600.0, 41
SECONDS = np.linspace(0, 1.6, COUNT)
TURNED = np.sin(np.pi * SECONDS / 1.6)  # there and back: the first picture and the last show one posture


def bodies(moved: np.ndarray, trunk: float = 60.0, limbs: float = 0.0) -> np.ndarray:
    """(n, 16, 2), px: all points of the trunk go right by so much, those of the limbs down."""
    points = np.zeros((len(moved), 16, 2))
    points[:, :6, 0] = trunk * moved[:, None]
    points[:, 6:, 1] = limbs * moved[:, None]
    return points


def known(at: list[int], off: list[float], u: float = 0.7) -> Known:
    return Known(np.array(at), np.column_stack([off, off]), u**2 * np.eye(len(at)))


def test_it_is_the_matern_covariance_of_order_three_halves() -> None:
    """Rasmussen and Williams 2006, equation 4.14, with the modified Bessel function of SciPy."""
    far, order = np.array([0.01, 0.3, 1.0, 2.5]), 1.5
    root = np.sqrt(2 * order) * far
    general = 2 ** (1 - order) / gamma(order) * root**order * kv(order, root)
    assert alike(far) == pytest.approx(general)
    assert alike(np.zeros(1))[0] == 1.0


def test_it_is_the_conditional_of_a_joint_normal_by_its_precision() -> None:
    """C. M. Bishop 2006, Pattern Recognition and Machine Learning, equations 2.73 and 2.75: the precision of
    the values not known is a block of that of all, and their mean follows from it.
    """
    size, clicks = 0.02, known([0, 17, 40], [3.0, -4.0, 5.0])
    far = unlike(SECONDS, bodies(TURNED), SIDE)
    offsets, u = foretold(far, clicks, size, SIDE)
    among = [*range(COUNT), 0, 17, 40]
    joint = SIDE**2 * (size**2 * alike(far)[np.ix_(among, among)] + STAYS**2)
    own = np.diag([*np.full(COUNT, (NOISE * SIDE) ** 2), *np.full(3, (NOISE * SIDE) ** 2 + 0.7**2)])
    precision = np.linalg.inv(joint + own)
    spread = np.linalg.inv(precision[:COUNT, :COUNT])
    mean = -spread @ precision[:COUNT, COUNT:] @ np.array([3.0, -4.0, 5.0])
    assert offsets == pytest.approx(np.column_stack([mean, mean]), abs=1e-6)
    assert u == pytest.approx(np.sqrt(np.diag(spread)), rel=1e-6)


def test_two_u_cover_ninety_five_of_a_hundred_errors_that_are_as_supposed() -> None:
    """Errors drawn from the process itself (seeded)."""
    chance, size = np.random.default_rng(4), 0.02
    far, at = unlike(SECONDS, bodies(TURNED), SIDE), [0, 13, 26, 40]
    drawn = (
        SIDE
        * size
        * np.linalg.cholesky(alike(far) + 1e-9 * np.eye(COUNT))
        @ chance.normal(size=(COUNT, 2000))
    )
    noise = chance.normal(0, NOISE * SIDE, drawn.shape)
    seen = (drawn + noise)[at] + chance.normal(0, 0.7, (4, 2000))
    offsets, u = foretold(far, Known(np.array(at), seen, 0.49 * np.eye(4)), size, SIDE)
    within = np.abs(drawn + noise - offsets) <= 2 * u[:, None]
    assert np.delete(within, at, axis=0).mean() == pytest.approx(0.9545, abs=0.01)


def test_a_posture_seen_at_a_click_is_surer_than_one_between() -> None:
    """Half-way the body stands as at neither click; near the end it is again as it was at the beginning."""
    far = unlike(SECONDS, bodies(TURNED), SIDE)
    _, u = foretold(far, known([0, 40], [5.0, 5.0]), 0.02, SIDE)
    assert u[20] > 2 * u[2] and u[38] == pytest.approx(u[2], rel=0.01)


def test_the_error_of_the_posture_that_is_most_alike_counts_most() -> None:
    """Clicked upright and turned; as upright as at the first, and later in time, it is off as there."""
    moved = np.where(SECONDS < 0.5, 0.0, np.where(SECONDS < 1.0, 1.0, 0.0))
    far = unlike(SECONDS, bodies(moved, trunk=200.0), SIDE)
    offsets, _ = foretold(far, known([2, 18], [10.0, -10.0], 0.1), 0.02, SIDE)
    assert offsets[22, 0] < -5 and offsets[30, 0] > 2


def test_where_nothing_is_alike_the_error_is_the_usual_one_and_its_u_wide() -> None:
    far = np.full((3, 3), 50.0) - 50.0 * np.eye(3)
    offsets, u = foretold(far, known([0, 1], [4.0, 8.0], 0.0), 0.02, SIDE)
    assert offsets[2] == pytest.approx([6.0, 6.0], rel=0.1)
    assert u[2] == pytest.approx(0.02 * SIDE * np.sqrt(1.5), rel=0.1)  # its own, and of the mean of two


def test_distances_are_of_time_and_of_the_trunk_and_less_of_the_limbs() -> None:
    """Two stills half a second apart, then moved as far as each counts for."""
    seconds = np.array([0.0, 0.5])
    apart = np.array([0.0, 1.0])
    still = unlike(seconds, bodies(apart, trunk=0.0), SIDE)
    trunk = unlike(seconds, bodies(apart, trunk=ALIKE_TRUNK * SIDE), SIDE)
    limbs = unlike(seconds, bodies(apart, trunk=0.0, limbs=ALIKE_LIMBS * SIDE), SIDE)
    assert still[0, 1] == pytest.approx(0.5 / LASTS)
    assert trunk[0, 1] == limbs[0, 1] == pytest.approx(np.hypot(0.5 / LASTS, 1.0))
    assert np.diag(trunk) == pytest.approx([0.0, 0.0])


def test_without_points_of_the_body_time_alone_counts() -> None:
    far = unlike(SECONDS, np.zeros((COUNT, 0, 2)), SIDE)
    assert far == pytest.approx(np.abs(SECONDS[:, None] - SECONDS[None, :]) / LASTS)


def test_clicks_err_by_themselves_and_carried_places_together() -> None:
    seconds = np.array([0.0, 1.0, 0.5, 0.51, 3.0])
    found = covariance(seconds, [0.7, 0.7], [1.0, 2.0, 1.5])
    assert np.diag(found) == pytest.approx([0.49, 0.49, 1.0, 4.0, 2.25])
    assert found[0, 1] == found[0, 2] == 0.0
    assert found[2, 3] == pytest.approx(2.0 * np.exp(-0.1)) and found[2, 4] < 1e-9
    assert np.linalg.eigvalsh(found).min() > 0


def test_a_place_that_pixels_carried_narrows_what_is_around_it() -> None:
    """There u is the pixels' own and the path's noise, twice: of that picture as known, and as asked."""
    far, at = unlike(SECONDS, bodies(TURNED), SIDE), np.array([0, 40, 20])
    _, without = foretold(far, known([0, 40], [5.0, 5.0]), 0.02, SIDE)
    error = covariance(SECONDS[at], [0.7, 0.7], [1.5])
    offsets, u = foretold(far, Known(at, np.array([[5.0, 5.0], [5.0, 5.0], [9.0, 9.0]]), error), 0.02, SIDE)
    assert u[20] < np.hypot(1.5, np.sqrt(2) * NOISE * SIDE) and u[22] < 0.7 * without[22]
    assert offsets[20, 0] == pytest.approx(9.0, abs=0.5)
