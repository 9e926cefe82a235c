"""The difference of two measured numbers, of one clip or of two, propagated as one number."""

from __future__ import annotations

from typing import Any

import numpy as np

from lessonpress.measure.evaluation import FIRST_ORDER, MONTE_CARLO
from lessonpress.measure.formulas.arrays import FloatArray
from lessonpress.measure.remedies import narrower
from lessonpress.measure.uncertainty import budget
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.propagation import (
    Inputs,
    Values,
    first_order,
    holds,
    monte_carlo,
    wrapped,
)
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.measure.uncertainty.refusal import Refusal
from lessonpress.records import Budget

LARGER, SMALLER, ALIKE = "larger", "smaller", "not distinguishable"


class Joint:
    """The inputs of two numbers; what both know by one name is one input, and its error cancels."""

    def __init__(self, first: Inputs, second: Inputs) -> None:
        self._first, self._second = first, second

    def __contains__(self, quantity: Quantity) -> bool:
        return quantity in self._first or quantity in self._second

    def variable(self, quantity: Quantity) -> Any:
        """The variable of the clip that has one; the first's where both have."""
        return (self._first if quantity in self._first else self._second).variable(quantity)

    def draws(self, count: int, seed: int) -> Values:
        """Draws by name: the same for both."""
        return self._first.draws(count, seed)


def difference(first: Measured, second: Measured) -> Measured | Refusal:
    """first − second, in their unit; way: "larger", "smaller" or "not distinguishable" (0 is within ±).

    Signed numbers are compared with their signs. Inputs of one name are one input: within a clip common
    errors cancel; between clips none are common. Refuses numbers of different kinds or axes, and numbers that
    came without their model.
    """
    if first.dimension != second.dimension or first.axis != second.axis or first.goal != second.goal:
        return Refusal("the two numbers are not of one kind", "compare measures of one kind and one axis")
    if first.model is None or second.model is None or first.inputs is None or second.inputs is None:
        return Refusal("the two numbers came without their working", "ask a survey for them")
    one, other = first.model, second.model

    def model(values: Values) -> FloatArray:
        return np.asarray(wrapped(one(values) - other(values), first.period))

    inputs = first.inputs if first.inputs is second.inputs else Joint(first.inputs, second.inputs)
    return _compared(first, second, model, inputs)


def _compared(first: Measured, second: Measured, model: Any, inputs: Inputs) -> Measured:
    estimate = first_order(model, inputs, period=first.period)
    k: float | None = 2.0
    low, high = estimate.value - 2 * estimate.u, estimate.value + 2 * estimate.u
    plain = first.k is not None and second.k is not None
    if not (plain and holds(estimate, model, inputs, period=first.period)):
        drawn = monte_carlo(model, inputs, period=first.period)
        low, high, k = drawn.low, drawn.high, None
    return Measured(
        value=estimate.value,
        dimension=first.dimension,
        uncertainty=(high - low) / 2,
        k=k,
        low=low,
        high=high,
        axis=first.axis,
        way=ALIKE if low <= 0 <= high else LARGER if estimate.value > 0 else SMALLER,
        plane=first.plane if first.plane == second.plane else f"{first.plane}; {second.plane}",
        frames=tuple(sorted({*first.frames, *second.frames})),
        marks=tuple(dict.fromkeys((*first.marks, *second.marks))),
        assumed=tuple(dict.fromkeys((*first.assumed, *second.assumed))),
        budget=Budget(
            "first − second",
            f"({first.budget.worked}) − ({second.budget.worked})",
            budget.shares(estimate),
            FIRST_ORDER if k else MONTE_CARLO,
            f"({first.budget.worked_otherwise}) − ({second.budget.worked_otherwise})",
            budget.sources(estimate, (*first.clips, *second.clips)),
            tuple(dict.fromkeys((*first.budget.depths, *second.budget.depths))),
        ),
        clips=tuple(dict.fromkeys((*first.clips, *second.clips))),
        narrower=narrower(estimate, (high - low) / 2),
        goal=first.goal,
        variable=estimate.variable,
        model=model,
        inputs=inputs,
        period=first.period,
    )
