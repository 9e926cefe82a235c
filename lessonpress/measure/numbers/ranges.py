"""Whether a number lies in the range a lesson expects, its uncertainty taken along."""

from __future__ import annotations

from typing import Literal

from lessonpress.measure.numbers.signs import sign_of
from lessonpress.measure.numbers.units import SIZE_OF_UNIT

Answer = Literal["inside", "at its edge", "outside"]


def inner_range(low: float, high: float, unit: str, word: str | None = None) -> tuple[float, float]:
    """A range as written, in m, m/s, deg or % and signed: 25..35 deg away gives (-35, -25).

    word: the way after the range ("toward", "away", "up", "down") or None where the numbers carry the sign.
    """
    size = SIZE_OF_UNIT[unit]
    if word is None:
        return low * size, high * size
    ends = sign_of(word) * low * size, sign_of(word) * high * size
    return min(ends), max(ends)


def answer(low: float, high: float, expected_low: float, expected_high: float) -> Answer:
    """Where the interval low..high of a measure lies against an expected range, all in one unit.

    "inside" and "outside" only when the whole interval is; a range is closed: touching it is at its edge.
    """
    if expected_low <= low and high <= expected_high:
        return "inside"
    if high < expected_low or low > expected_high:
        return "outside"
    return "at its edge"
