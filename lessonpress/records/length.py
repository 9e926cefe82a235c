"""A length as an author writes it, kept in metres with the words it was written in."""

from __future__ import annotations

from dataclasses import dataclass

METRES_PER_INCH = 0.0254  # exact: international yard and pound agreement, 1959
METRES_PER_SECOND_PER_MPH = 0.44704  # exact, from the same agreement


@dataclass(frozen=True)
class Length:
    metres: float
    text: str

    def __str__(self) -> str:
        return self.text
