"""Lengths: as an author writes one, kept in metres, and the units a site prints them in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Units = Literal["in", "cm"]  # in which a site prints lengths; speeds go with them: mph, m/s

METRES_PER_INCH = 0.0254  # exact: international yard and pound agreement, 1959
METRES_PER_SECOND_PER_MPH = 0.44704  # exact, from the same agreement


def other_units(units: Units) -> Units:
    """The units that a site in `units` does not print."""
    return "cm" if units == "in" else "in"


@dataclass(frozen=True)
class Length:
    metres: float
    text: str

    def __str__(self) -> str:
        return self.text
