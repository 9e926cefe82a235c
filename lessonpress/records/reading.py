"""How a reader has a page: in which units, its pictures as they are or turned about for the other hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from lessonpress.records.length import Units, other_units

T = TypeVar("T")


@dataclass(frozen=True)
class Reading:
    """site: the units the site prints. swapped: whether the reader has the others. turned: pictures about."""

    site: Units
    swapped: bool = False
    turned: bool = False

    @property
    def units(self) -> Units:
        """Those that the reader has."""
        return other_units(self.site) if self.swapped else self.site

    def units_of(self, form: str) -> Units:
        """Those of a number that an author asks for in units of its own, `cm` or `in`.

        A number asked for in units that are not the site's stays one in the units that are not the reader's:
        "4 in (10 cm)" becomes "10 cm (4 in)".
        """
        asked_for_others = form in ("cm", "in") and form != self.site
        return other_units(self.units) if asked_for_others else self.units


# what a page says in other readings than its own, of those in which it says something else
Otherwise = tuple[tuple[Reading, str], ...]


def other_readings(site: Units) -> tuple[Reading, ...]:
    """All readings but the site's own."""
    return Reading(site, swapped=True), Reading(site, turned=True), Reading(site, swapped=True, turned=True)


def in_reading(own: str, otherwise: Otherwise, reading: Reading | None) -> str:
    """What is said in a reading; `own` where nothing else is, and for None."""
    return own if reading is None else dict(otherwise).get(reading, own)


def differing(own: str, said: Iterable[tuple[Reading, str]]) -> Otherwise:
    """Of what is said in other readings, that which is not said in the site's own."""
    return tuple((reading, text) for reading, text in said if text != own)


def shown_in(own: T, otherwise: Iterable[tuple[Reading, T]]) -> tuple[tuple[str, T], ...]:
    """What a page holds so that it can be shown in every reading, each with the classes it is shown for.

    "in" and "cm" where units decide, "filmed" and "turned" where the side does, two of them where both do, ""
    where nothing does. The style sheet hides what is not for the reader's choice.
    """
    said = dict(otherwise)
    if not said:
        return (("", own),)
    site = next(iter(said)).site
    units, sides = (site, other_units(site)), ("filmed", "turned")
    readings = [Reading(site, swapped, turned) for turned in (False, True) for swapped in (False, True)]
    plain, swapped, turned, both = (said.get(reading, own) for reading in readings)
    if (plain, swapped) == (turned, both):
        return (units[0], plain), (units[1], swapped)
    if (plain, turned) == (swapped, both):
        return (sides[0], plain), (sides[1], turned)
    classes = [f"{unit} {side}" for side in sides for unit in units]
    return tuple(zip(classes, (plain, swapped, turned, both), strict=True))
