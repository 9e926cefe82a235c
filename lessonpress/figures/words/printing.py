"""Measures as a page prints them: value, unit, ±, way, in this order everywhere."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from lessonpress.measure import SIZE_OF_UNIT, Printed, Units, joined, printed, unit_of, with_pm
from lessonpress.records import Dimension, Measure, Reading

_CLOCKS = re.compile(r"^\s*(\d+:\d\d)\s*(?:\.\.|–)\s*(\d+:\d\d)")
_DIMENSION_OF: dict[str, Dimension] = {
    "in": "length",
    "ft": "length",
    "cm": "length",
    "mm": "length",
    "m": "length",
    "mph": "speed",
    "m/s": "speed",
}
_RANGE = re.compile(r"^\s*([-−]?[\d.]+)\s*\.\.\s*([-−]?[\d.]+)\s*(\S*)")


@dataclass(frozen=True)
class Lettered:
    """A number in print. number carries a sign only where no way says it; unit is "" for none."""

    number: str
    unit: str
    pm: str
    way: str

    @property
    def value(self) -> str:
        """Number and unit: "4.0 in", "29.2°"."""
        return joined(self.number, self.unit)

    @property
    def size(self) -> str:
        """Number, unit and ±: "4.0 in ± 0.6"."""
        return with_pm(self.value, self.pm)

    @property
    def full(self) -> str:
        """With its direction: "4.0 in ± 0.6 away from the target"."""
        return f"{self.size} {self.way}".rstrip()


def lettered(measure: Measure, units: Units, *, turned: bool = False) -> Lettered | None:
    """The measure in the site's units, or in others; None where it was refused. turned: of the picture so."""
    measure = (measure.turned or measure) if turned else measure
    if measure.value is None or measure.uncertainty is None:
        return None
    size = SIZE_OF_UNIT[measure.unit or ""]
    number: Printed = printed(measure.value * size, measure.uncertainty * size, measure.dimension, units)
    return Lettered(number.size if measure.way else number.value, number.unit, number.pm, measure.way)


def answer_words(measure: Measure, reading: Reading | None = None) -> str:
    """Where the number lies in the range that was expected: "inside 25° to 35°"; "" where none was.

    reading: in which the range is said; None for the range as it was written.
    """
    if measure.answer is None or measure.expect is None:
        return ""
    within = "at the edge of" if measure.answer == "at its edge" else measure.answer
    expect = measure.expect if reading is None else _range_in(measure.expect, reading)
    return f"{within} {range_words(expect)}"


def range_words(expect: str) -> str:
    """A range as written, for a sentence: `25..35 deg away` is 25° to 35°, `-1..1 in` −1 to 1 in.

    Its direction is left out: the number that is answered for has said it.
    """
    if clocks := _CLOCKS.match(expect):
        return f"{clocks[1]} to {clocks[2]}"
    written = _RANGE.match(expect)
    if written is None:
        return expect
    low, high, unit = (part.replace("-", "−") for part in written.groups())
    if unit in ("deg", "°"):
        return f"{low}° to {high}°"
    return f"{low} to {high} {unit}".strip()


def _range_in(expect: str, reading: Reading) -> str:
    """A range as a reader has it: lengths and speeds in the other units, clock times from the other side.

    Rounded to a tenth of what the author's last figure is worth, so that a range stays where it was written.
    """
    if reading.turned and (clocks := _CLOCKS.match(expect)):
        return f"{_turned_clock(clocks[2])}..{_turned_clock(clocks[1])}"
    written = _RANGE.match(expect)
    dimension = None if written is None else _DIMENSION_OF.get(written[3])
    if not reading.swapped or written is None or dimension is None:
        return expect
    unit = unit_of(dimension, reading.units) or ""
    factor = SIZE_OF_UNIT[written[3]] / SIZE_OF_UNIT[unit]
    low, high = (_converted(number, factor) for number in written.groups()[:2])
    return f"{low}..{high} {unit}"


def _converted(number: str, factor: float) -> str:
    """A number as written, times a factor; zeros at its end say nothing and are left out."""
    decimals = len(number.partition(".")[2])
    figures = max(0, decimals - math.floor(math.log10(factor)) + 1)
    converted = f"{float(number.replace('−', '-')) * factor:.{figures}f}"
    return converted.rstrip("0").rstrip(".") if figures else converted


def _turned_clock(time: str) -> str:
    """A clock time as seen in the picture turned about: 1:30 is 10:30."""
    hours, minutes = time.split(":")
    left = -(int(hours) * 60 + int(minutes)) % 720
    return f"{left // 60 or 12}:{left % 60:02d}"


def text_of(measure: Measure, form: str, reading: Reading) -> str:
    """A measure in one of the forms of prose, as plain text: "" is value, unit, ± and way."""
    number = lettered(measure, reading.units_of(form), turned=reading.turned)
    if number is None:
        return "not measured"
    forms = {
        "": number.full,
        "cm": number.full,
        "in": number.full,
        "size": number.size,
        "value": number.value,
        "bare": number.number,
        "clock": number.number,
        "way": number.way,
        "answer": answer_words(measure, reading),
    }
    return forms[form]
