"""Numbers as printed: no more digits than the uncertainty warrants.

Source: JCGM 100:2008, 7.2.6 (at most two significant digits, the value rounded to match), with this program's
own rule for when one is enough: ± has two figures where its first is 1 or 2, else one, and is never rounded
down by more than 5 %.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from lessonpress.measure.numbers.units import Units, in_print, unit_of
from lessonpress.records import Dimension

MINUS = "\u2212"
CLOCK_STEP = 2.5  # degrees: five minutes of the hour hand, 12 h = 360°


@dataclass(frozen=True)
class Printed:
    """A number in print. value is signed, size is not; pm has the same decimals; unit is "" for none."""

    value: str
    size: str
    pm: str
    unit: str

    @property
    def united(self) -> str:
        """Value and unit: "−4.0 in", "30°"."""
        return joined(self.value, self.unit)

    @property
    def sized(self) -> str:
        """Size and unit, without the sign: "4.0 in", "30°"."""
        return joined(self.size, self.unit)

    @property
    def text(self) -> str:
        """Value, unit, ±: "−4.0 in ± 0.6"."""
        return with_pm(self.united, self.pm)

    @property
    def amount(self) -> str:
        """Size, unit, ±: "4.0 in ± 0.6"."""
        return with_pm(self.sized, self.pm)


def joined(number: str, unit: str) -> str:
    """A number before its unit: a space, but none before ° and where there is no unit."""
    return number + unit if unit in ("°", "") else f"{number} {unit}"


def with_pm(number: str, pm: str) -> str:
    """A number with its unit, and its ±."""
    return f"{number} ± {pm}"


def quantum(uncertainty: float) -> Decimal:
    """The step to which ± and value are rounded: a power of ten.

    Raises ValueError for an uncertainty that is not a positive number.
    """
    exact = Decimal(uncertainty)
    if not exact.is_finite() or exact <= 0:
        raise ValueError(f"an uncertainty must be a positive number, not {uncertainty}")
    first = int(exact.scaleb(-exact.adjusted()))
    return Decimal(1).scaleb(exact.adjusted() - (1 if first in (1, 2) else 0))


def rounded_pm(uncertainty: float) -> tuple[Decimal, Decimal]:
    """± as printed and its step. 0.34 gives 0.4 (0.3 would be 12 % less), 0.55 gives 0.6, 2.96 gives 3."""
    exact = Decimal(uncertainty)
    step = quantum(uncertainty)
    pm = exact.quantize(step, ROUND_HALF_EVEN)
    if pm < exact * Decimal("0.95"):
        pm += step
    coarser = quantum(float(pm))
    return (pm.quantize(coarser), coarser) if coarser > step else (pm, step)


def plain(number: Decimal) -> str:
    """Digits without an exponent and with a true minus sign."""
    return f"{number:f}".replace("-", MINUS)


def clock_words(degrees: float) -> str:
    """A direction as clock time to five minutes: 45 gives "1:30", 0 and 359 give "12:00".

    degrees: clockwise from 12. Source: 12 h = 360°, so an hour is 30° and a minute of the hour hand 0.5°.
    """
    minutes = round(degrees / CLOCK_STEP) * 5 % 720
    return f"{minutes // 60 or 12}:{minutes % 60:02d}"


def printed_clock(degrees: float, uncertainty: float) -> Printed:
    """Clock time and ± as h:mm; ± is at least the five minutes to which the time is given."""
    minutes = max(5, -(-round(uncertainty * 2) // 5) * 5)
    words = clock_words(degrees)
    return Printed(words, words, f"{minutes // 60}:{minutes % 60:02d}", "")


def printed(value: float, uncertainty: float, dimension: Dimension, units: Units) -> Printed:
    """A value and its expanded uncertainty, both in m, m/s, deg, % or none, as a lesson prints them."""
    if dimension == "clock":
        return printed_clock(value, uncertainty)
    pm, step = rounded_pm(in_print(uncertainty, dimension, units))
    number = Decimal(in_print(value, dimension, units)).quantize(step, ROUND_HALF_EVEN)
    number = abs(number) if number == 0 else number
    unit = unit_of(dimension, units) or ""
    return Printed(plain(number), plain(abs(number)), plain(pm), "°" if unit == "deg" else unit)
