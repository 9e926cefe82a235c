"""A number whose interval spans all that it could be says nothing."""

from __future__ import annotations

import pytest

from lessonpress.measure.uncertainty.measured import Measured, says_nothing
from lessonpress.records.measure import Budget, Dimension

PICTURE = 2.0  # m


def measured(dimension: Dimension, pm: float) -> Measured:
    budget = Budget("", "", (), "")
    return Measured(0.5, dimension, pm, 2.0, 0.5 - pm, 0.5 + pm, None, "", "", (), (), (), budget)


@pytest.mark.parametrize(
    ("dimension", "pm"), [("angle", 178), ("angle", 90), ("clock", 180), ("percent", 50), ("length", 1.0)]
)
def test_a_number_as_unsure_as_its_whole_range_says_nothing(dimension: Dimension, pm: float) -> None:
    assert says_nothing(measured(dimension, pm), PICTURE)


@pytest.mark.parametrize(
    ("dimension", "pm"),
    [("angle", 89), ("clock", 179), ("percent", 49), ("length", 0.9), ("speed", 1e6)],
)
def test_a_number_that_leaves_some_of_its_range_out_says_something(dimension: Dimension, pm: float) -> None:
    assert not says_nothing(measured(dimension, pm), PICTURE)


def test_a_length_without_a_scale_has_no_range() -> None:
    assert not says_nothing(measured("length", 1e6), None)
