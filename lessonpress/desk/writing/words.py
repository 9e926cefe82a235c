"""An offer, and the words beside it."""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.figures import lettered
from lessonpress.measure import Units
from lessonpress.records import Measure


@dataclass(frozen=True)
class Offer:
    """name: what it is called. text: what is put in the place of what is typed. words: what it is.

    back: how many characters before the end of the text the cursor goes.
    """

    name: str
    text: str
    words: str
    back: int = 0


def number_words(measure: Measure, units: Units) -> str:
    """What a brace prints, or why it prints nothing."""
    number = lettered(measure, units)
    return f"no number, {measure.refused}" if number is None else number.full
