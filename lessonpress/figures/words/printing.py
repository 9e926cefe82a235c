"""Measures as a page prints them: value, unit, ±, way, in this order everywhere."""

from __future__ import annotations

import re
from dataclasses import dataclass

from lessonpress.measure import SIZE_OF_UNIT, Printed, Units, joined, printed, with_pm
from lessonpress.records import Measure

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


def lettered(measure: Measure, units: Units) -> Lettered | None:
    """The measure in the site's units, or in others that a form asks for; None where it was refused."""
    if measure.value is None or measure.uncertainty is None:
        return None
    size = SIZE_OF_UNIT[measure.unit or ""]
    number: Printed = printed(measure.value * size, measure.uncertainty * size, measure.dimension, units)
    return Lettered(number.size if measure.way else number.value, number.unit, number.pm, measure.way)


def answer_words(measure: Measure) -> str:
    """Where the number lies in the range that was expected: "inside 25° to 35°"; "" where none was."""
    if measure.answer is None or measure.expect is None:
        return ""
    within = "at the edge of" if measure.answer == "at its edge" else measure.answer
    return f"{within} {range_words(measure.expect)}"


def range_words(expect: str) -> str:
    """A range as written, for a sentence: `25..35 deg away` is 25° to 35°, `-1..1 in` −1 to 1 in.

    Its direction is left out: the number that is answered for has said it.
    """
    written = _RANGE.match(expect)
    if written is None:
        return expect
    low, high, unit = (part.replace("-", "−") for part in written.groups())
    if unit in ("deg", "°"):
        return f"{low}° to {high}°"
    return f"{low} to {high} {unit}".strip()


_OTHER_UNITS: dict[str, Units] = {"cm": "cm", "in": "in"}


def text_of(measure: Measure, form: str, units: Units) -> str:
    """A measure in one of the forms of prose, as plain text: "" is value, unit, ± and way."""
    number = lettered(measure, _OTHER_UNITS.get(form, units))
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
        "answer": answer_words(measure),
    }
    return forms[form]
