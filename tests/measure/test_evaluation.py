"""What every number is held against before it is given."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import pytest

from lessonpress.measure.evaluation import refuse_too_short
from lessonpress.measure.formulas.arrays import Pair
from lessonpress.measure.uncertainty.propagation import Values
from lessonpress.measure.uncertainty.quantities import BestValues, Quantity, SharedInputs
from lessonpress.measure.uncertainty.refusal import RefusedError


@dataclass
class Inputs:
    """As much of a scene as a length near zero is held against."""

    best: BestValues = field(default_factory=BestValues)
    inputs: SharedInputs = field(default_factory=SharedInputs)


def held(along: float, across: float) -> None:
    """A length of 1 m that errs along itself and across; the limits are this program's own, 2 u and 4 u."""
    lengthwise, crosswise = Quantity("along", "", 0.0, along, "m"), Quantity("across", "", 0.0, across, "m")

    def ends(values: Values) -> list[Pair]:
        return [(np.zeros(1), np.zeros(1)), (1 + values[lengthwise], values[crosswise])]

    refuse_too_short(ends, Inputs(), lambda value: f"{value:.2f} m", "way out")  # type: ignore[arg-type]


def test_a_length_is_kept_that_is_twice_its_u_along_and_four_times_that_across() -> None:
    held(along=0.49, across=0.24)


@pytest.mark.parametrize(
    ("along", "across", "word"), [(0.51, 0.01, "1.02 m lengthwise"), (0.01, 0.26, "0.52 m crosswise")]
)
def test_a_length_is_refused_by_what_it_errs_along_itself_or_across(
    along: float, across: float, word: str
) -> None:
    with pytest.raises(RefusedError, match=word):
        held(along, across)
