"""From metres, degrees and metres per second to the units of print; all factors exact."""

from __future__ import annotations

import re

from lessonpress.records import METRES_PER_INCH, METRES_PER_SECOND_PER_MPH, Dimension
from lessonpress.records import Units as Units

# (dimension, the site's units) -> unit of print, and how much of the inner unit it holds
PRINTED: dict[tuple[Dimension, Units], tuple[str | None, float]] = {
    ("length", "in"): ("in", METRES_PER_INCH),
    ("length", "cm"): ("cm", 0.01),
    ("speed", "in"): ("mph", METRES_PER_SECOND_PER_MPH),
    ("speed", "cm"): ("m/s", 1.0),
    ("angle", "in"): ("deg", 1.0),
    ("angle", "cm"): ("deg", 1.0),
    ("clock", "in"): ("deg", 1.0),
    ("clock", "cm"): ("deg", 1.0),
    ("percent", "in"): ("%", 1.0),
    ("percent", "cm"): ("%", 1.0),
    ("ratio", "in"): (None, 1.0),
    ("ratio", "cm"): (None, 1.0),
}

# a unit as an author may write it -> its size in m, m/s, deg or %
SIZE_OF_UNIT: dict[str, float] = {
    "in": METRES_PER_INCH,
    "ft": 12 * METRES_PER_INCH,
    "cm": 0.01,
    "mm": 0.001,
    "m": 1.0,
    "mph": METRES_PER_SECOND_PER_MPH,
    "m/s": 1.0,
    "deg": 1.0,
    "°": 1.0,
    "%": 1.0,
    "": 1.0,
}


def unit_of(dimension: Dimension, units: Units) -> str | None:
    """The unit a dimension is printed in: "in", "cm", "mph", "m/s", "deg", "%" or None."""
    return PRINTED[dimension, units][0]


def in_print(value: float, dimension: Dimension, units: Units) -> float:
    """A value of the inner unit (m, m/s, deg, %) in its unit of print."""
    return value / PRINTED[dimension, units][1]


_OPEN = re.compile(r"⟦(\S+) (\d+)⟧")


def open_length(metres: float, figures: int = 1) -> str:
    """A length in a text whose units are not settled yet; `in_units` writes it."""
    return f"⟦{float(metres)!r} {figures}⟧"


def in_units(text: str, units: Units) -> str:
    """The text with its open lengths written in these units."""
    return _OPEN.sub(lambda length: length_words(float(length[1]), units, int(length[2])), text)


def length_words(metres: float, units: Units, figures: int = 1) -> str:
    """A length for a sentence or a worked formula: "5.9 in", "15.0 cm"."""
    unit, size = PRINTED["length", units]
    return f"{metres / size:.{figures}f} {unit}".replace("-", "−")
