"""What would narrow a number, for its author: the one or two remedies that a printed digit shows."""

from __future__ import annotations

from lessonpress.measure import SIZE_OF_UNIT, Measured, Units, in_print, in_units, joined, printed
from lessonpress.records import Measure, Narrower

MOST = 2


def worth_saying(measured: Measured, units: Units) -> tuple[Narrower, ...]:
    """Those that narrow most, in the unit of print; none whose ± would print as it does now."""

    def pm(uncertainty: float) -> str:
        return printed(measured.value, uncertainty, measured.dimension, units).pm

    if measured.uncertainty == 0:  # a swing against itself
        return ()
    now = pm(measured.uncertainty)
    seen = [one for one in measured.narrower if one.uncertainty > 0 and pm(one.uncertainty) != now]
    return tuple(
        Narrower(in_units(one.words, units), in_print(one.uncertainty, measured.dimension, units))
        for one in seen[:MOST]
    )


def narrower_words(measure: Measure, units: Units) -> tuple[str, ...]:
    """Each in words: "a plumb line: ± 3.1° to ± 2.4°"."""
    if measure.value is None or measure.uncertainty is None:
        return ()
    value, size = measure.value, SIZE_OF_UNIT[measure.unit or ""]

    def pm(uncertainty: float) -> str:
        number = printed(value * size, uncertainty * size, measure.dimension, units)
        return f"± {joined(number.pm, number.unit)}"

    now = pm(measure.uncertainty)
    return tuple(f"{one.words}: {now} to {pm(one.uncertainty)}" for one in measure.narrower)
