"""What is learnt of the size of errors, on errors of which it is known."""

from __future__ import annotations

import numpy as np
import pytest

from tests.suggesting.sizes import LEAST, Floats, Size, size_of

TRUE = Size(0.01, 1.5, (1.2, 0.75))
DRAWN = 4000


def errors(chance: np.random.Generator, true: Size, times: float = 1.0) -> Floats:
    """(DRAWN, 3): normal errors of that size, and what looks differ by: 0.001 to 0.02 of the side."""
    differ = chance.uniform(0.001, 0.02, DRAWN)
    return np.column_stack([times * chance.normal(0, true.u(differ)), differ])


def within(some: Floats, size: Size) -> float:
    return float((np.abs(some[:, :2]) <= 2 * size.u(some[:, 2])).mean())


def test_of_normal_errors_two_u_hold_95_in_100_on_either_axis() -> None:
    """95.45 of 100 lie within 2 deviations, so u comes out 2 % less than they are (1.96 for 2)."""
    chance = np.random.default_rng(1)
    golfers = [errors(chance, TRUE) for _ in range(5)]
    found = size_of(golfers, golfers[:1])
    assert (found.least, found.spread) == pytest.approx((0.98 * TRUE.least, 0.98 * TRUE.spread), rel=0.06)
    assert found.axes == pytest.approx(TRUE.axes, abs=0.04)
    assert np.mean(np.square(found.axes)) == pytest.approx(1.0, abs=0.01)


def test_a_golfer_of_whom_errors_are_larger_counts_as_one_of_all() -> None:
    """19 in 20 of all, and fewer of that one."""
    chance = np.random.default_rng(2)
    golfers = [*(errors(chance, TRUE) for _ in range(9)), errors(chance, TRUE, 2.0)]
    found = size_of(golfers, golfers[:1])
    assert np.mean([within(one, found) for one in golfers]) == pytest.approx(0.95, abs=0.005)
    assert within(golfers[-1], found) < 0.85


def test_rendered_films_have_to_hold_by_themselves() -> None:
    chance = np.random.default_rng(3)
    golfers = [errors(chance, TRUE) for _ in range(9)]
    rendered = [errors(chance, TRUE, 1.5)]
    assert within(rendered[0], size_of([*golfers, *rendered], rendered)) == pytest.approx(0.95, abs=0.005)
    assert within(rendered[0], size_of([*golfers, *rendered], golfers)) < 0.9


def test_no_error_is_said_to_be_less_than_a_px_of_the_networks_picture() -> None:
    tiny = [errors(np.random.default_rng(4), Size(0.0005, 0.0, (1.0, 1.0)))]
    assert size_of(tiny, tiny).least == LEAST
