"""Numbers as the pages print them, as JSON."""

from __future__ import annotations

from typing import Any

from lessonpress.figures import Lettered, answer_words, lettered, narrower_words
from lessonpress.measure import Measured, Refusal, Units, printed
from lessonpress.records import Measure

MOST_SHARES = 6  # of a budget: what an author can do something about


def number_json(number: Lettered | None) -> dict[str, str] | None:
    if number is None:
        return None
    return {
        "value": number.number,
        "pm": number.pm,
        "unit": number.unit,
        "way": number.way,
        "text": number.full,
    }


def measured_json(measured: Measured | Refusal, units: Units) -> dict[str, Any]:
    """A survey's answer: its number, or why there is none."""
    if isinstance(measured, Refusal):
        return {"number": None, "refused": refusal_json(measured)}
    said = printed(measured.value, measured.uncertainty, measured.dimension, units)
    number = Lettered(said.size if measured.way else said.value, said.unit, said.pm, measured.way)
    return {"number": number_json(number), "refused": None}


def stature_words(value: str, unit: str) -> str:
    """A stature as it is said: 5 ft 8.3 in, or its value and unit where it is not in inches."""
    if unit != "in":
        return f"{value} {unit}"
    feet, inches = divmod(float(value), 12)
    return f"{feet:.0f} ft {round(inches, 1):g} in"


def refusal_json(refusal: Refusal | None) -> dict[str, str] | None:
    return None if refusal is None else {"reason": refusal.reason, "way_out": refusal.way_out}


def measure_json(measure: Measure, colour: str, units: Units) -> dict[str, Any]:
    """A row of a ledger."""
    shares = measure.budget.shares[:MOST_SHARES] if measure.budget else ()
    return {
        "id": measure.id,
        "kind": measure.kind,
        "letter": measure.letter,
        "colour": colour,
        "words": measure.words,
        "number": number_json(lettered(measure, units)),
        "refused": measure.refused,
        "way_out": measure.way_out,
        "answer": answer_words(measure),
        "frames": list(measure.frames),
        "marks": list(measure.marks),
        "narrower": list(narrower_words(measure, units)),
        "budget": [{"words": share.words, "share": share.share} for share in shares],
    }
