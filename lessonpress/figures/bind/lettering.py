"""Numerals of plates and letters of overlays.

One letter runs through the whole lesson for the same kind, marks, axis, since and placed, so that a reader
who has met E at the top knows it again at impact and in the ledger. A line that is kept where it was dropped
has the letter that it had there (`remembered.py`).
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from itertools import product

ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # without I and O, which read as one and nought


def letters() -> Iterator[str]:
    """A, B, … Z without I and O, then AA, AB, …"""
    width = 1
    while True:
        for letter in product(ALPHABET, repeat=width):
            yield "".join(letter)
        width += 1


class Lettering:
    """Gives letters in the order in which overlays are met.

    same: what is the same as another thing of the lesson, by what sets it apart by itself.
    """

    def __init__(self, same: Mapping[Hashable, Hashable] | None = None) -> None:
        self._fresh = letters()
        self._same = same or {}
        self._given: dict[Hashable, str] = {}

    def letter(self, sameness: Hashable) -> str:
        """The letter of everything that equals `sameness`; a fresh one at its first meeting."""
        sameness = self._same.get(sameness, sameness)
        if sameness not in self._given:
            self._given[sameness] = next(self._fresh)
        return self._given[sameness]


_NUMERALS = (
    (1000, "M"), (900, "CM"), (500, "D"), (400, "CD"), (100, "C"), (90, "XC"), (50, "L"), (40, "XL"),
    (10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I"),
)  # fmt: skip


def numeral(number: int) -> str:
    """A whole number from 1 in Roman numerals: 2 is II."""
    written = ""
    for worth, sign in _NUMERALS:
        count, number = divmod(number, worth)
        written += sign * count
    return written
