"""First-order and Monte Carlo propagation against published values and against each other."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from uncertainties import correlated_values_norm

from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.uncertainty.propagation import Values, first_order, monte_carlo
from lessonpress.measure.uncertainty.quantities import Quantity, SharedInputs, limited


class Correlated(SharedInputs):
    """Inputs whose variables are correlated, as those of one experiment in the GUM's annex."""

    def __init__(self, quantities: list[Quantity], matrix: list[list[float]]) -> None:
        super().__init__()
        values = correlated_values_norm([(q.value, q.u) for q in quantities], np.array(matrix))
        self._correlated = dict(zip(quantities, values, strict=True))

    def variable(self, quantity: Quantity) -> Any:
        return self._correlated[quantity]


# JCGM 100:2008, annex H.2, table H.2: V, I and φ of one circuit, and their correlations
VOLTAGE = Quantity("V", "potential difference", 4.9990, 0.0032, "V")
CURRENT = Quantity("I", "current", 19.6610e-3, 0.0095e-3, "A")
PHASE = Quantity("φ", "phase", 1.04446, 0.00075, "rad")
H2 = Correlated(
    [VOLTAGE, CURRENT, PHASE],
    [[1, -0.36, 0.86], [-0.36, 1, -0.65], [0.86, -0.65, 1]],
)


def resistance(v: Values) -> FloatArray:
    return np.asarray(v[VOLTAGE] / v[CURRENT] * np.cos(v[PHASE]))


def reactance(v: Values) -> FloatArray:
    return np.asarray(v[VOLTAGE] / v[CURRENT] * np.sin(v[PHASE]))


def impedance(v: Values) -> FloatArray:
    return np.asarray(v[VOLTAGE] / v[CURRENT])


@pytest.mark.parametrize(
    ("model", "value", "u", "recomputed"),
    [
        (resistance, 127.732, 0.071, 0.070),
        (reactance, 219.847, 0.295, 0.296),
        (impedance, 254.260, 0.236, 0.237),
    ],
)
def test_the_annex_of_the_gum_is_found_again(
    model: Callable[[Values], FloatArray], value: float, u: float, recomputed: float
) -> None:
    """R, X and Z of JCGM 100:2008, annex H.2, come out with their uncertainties, correlations included.

    Published values from memory; `recomputed` are those that the rounded inputs give with `uncertainties`.
    """
    found = first_order(model, H2)
    assert found.value == pytest.approx(value, abs=6e-4)
    assert found.u == pytest.approx(recomputed, abs=6e-4)
    assert found.u == pytest.approx(u, abs=2e-3)


def test_resistance_and_reactance_keep_their_published_correlation() -> None:
    """r(R, X) of JCGM 100:2008, annex H.2, is −0.588 (from memory): two results share their inputs."""
    real, imaginary = first_order(resistance, H2), first_order(reactance, H2)
    assert (real.variable + imaginary.variable).std_dev ** 2 == pytest.approx(
        real.u**2 + imaginary.u**2 + 2 * -0.588 * real.u * imaginary.u, rel=0.02
    )


def test_draws_agree_with_first_order_where_the_model_is_near_linear() -> None:
    """2·10⁵ draws give the standard uncertainty of first order within 2 % (JCGM 101:2008, 8: validation)."""
    inputs, level, up = SharedInputs(), Quantity("a", "a", 3.0, 0.02, "m"), limited("b", "b", 4.0, 0.05, "m")

    def length(v: Values) -> FloatArray:
        return np.asarray(np.hypot(v[level], v[up]))

    drawn = monte_carlo(length, inputs, draws=200_000)
    assert drawn.u == pytest.approx(first_order(length, inputs).u, rel=0.02)


def test_draws_show_what_first_order_misses() -> None:
    """The cosine of 0 ± 0.1 is certain to first order and low by 0.005 in the mean of draws.

    Source: E cos X = exp(−u²/2) for a normal X of mean 0; at u = 0.1 the 2.5 % point of cos X is
    cos(0.1 × 2.2414), 2.2414 being the normal quantile of 0.9875 for the folded tail.
    """
    inputs, angle = SharedInputs(), Quantity("x", "x", 0.0, 0.1, "rad")
    found = first_order(lambda v: np.cos(v[angle]), inputs)
    drawn = monte_carlo(lambda v: np.cos(v[angle]), inputs, draws=200_000)
    assert found.u == 0
    assert drawn.low == pytest.approx(math.cos(0.1 * 2.2414), abs=2e-4)


def test_the_same_seed_draws_the_same_numbers() -> None:
    """Monte Carlo is repeatable, whatever was asked before."""
    a, b = Quantity("a", "a", 1.0, 0.1, ""), Quantity("b", "b", 2.0, 0.1, "")
    first, second = SharedInputs(), SharedInputs()
    monte_carlo(lambda v: v[b], second)
    assert monte_carlo(lambda v: v[a] * v[b], first) == monte_carlo(lambda v: v[a] * v[b], second)


def test_limits_are_a_rectangle() -> None:
    """u = a/√3 for a half-width a (JCGM 100:2008, 4.3.7), and draws never leave the limits."""
    quantity = limited("l", "length", 1.0, 0.03, "m")
    draws = quantity.drawn(np.random.default_rng(1), 10_000)
    assert quantity.u == pytest.approx(0.03 / math.sqrt(3))
    assert draws.min() >= 0.97 and draws.max() <= 1.03
    assert draws.std() == pytest.approx(quantity.u, rel=0.02)


def test_a_direction_across_the_seam_keeps_its_small_uncertainty() -> None:
    """359.9° and 0.1° are neighbours: the step between them is 0.2°, not 359.8°."""
    angle = Quantity("x", "x", -0.001, 0.01, "")
    found = first_order(lambda v: np.degrees(v[angle]) % 360, SharedInputs(), period=360)
    assert found.u == pytest.approx(math.degrees(0.01), rel=1e-6)


def test_a_shared_input_cancels_in_a_difference() -> None:
    """Two numbers with a common offset differ without its error."""
    inputs = SharedInputs()
    offset, a = Quantity("offset", "", 1.0, 0.5, ""), Quantity("a", "", 2.0, 0.1, "")
    first = first_order(lambda v: v[offset] + v[a], inputs)
    second = first_order(lambda v: v[offset] + 0 * v[a], inputs)
    assert (first.variable - second.variable).std_dev == pytest.approx(0.1)
