"""What an author expects of a measure: a range written out or named, held against its kind of number."""

from __future__ import annotations

from collections.abc import Mapping

from lessonpress.manuscript.expectations import Expectation, expectation
from lessonpress.manuscript.fieldtypes import NAME
from lessonpress.manuscript.wrong import WrongError
from lessonpress.overlays.fields import OverlayFields
from lessonpress.records.measure import Dimension
from lessonpress.records.problem import Problems, nearest

UNITS: dict[Dimension, tuple[str, ...]] = {
    "length": ("in", "cm", "mm", "m", "ft"),
    "angle": ("deg",),
    "clock": ("clock",),
    "speed": ("mph", "m/s"),
    "percent": ("%",),
    "ratio": ("",),
}
_RIGHT: dict[Dimension, str] = {
    "length": "write it in in, cm, mm, m or ft",
    "angle": "write it in deg",
    "clock": "write clock times, `1:30..2:30`",
    "speed": "write it in mph or m/s",
    "percent": "write it in %",
    "ratio": "write bare numbers",
}


def expected(
    fields: OverlayFields, ranges: Mapping[str, Expectation], problems: Problems
) -> Expectation | None:
    """The range an overlay's measure is held against; None without one, or once its mistakes are reported."""
    if fields.expect is None or fields.DIMENSION is None:
        return None
    place = fields.place_of("expect")
    try:
        found = _range(fields.expect, ranges)
        _check_unit(found, fields.DIMENSION)
        _check_sign(found, fields.ways)
    except WrongError as mistake:
        problems.error(place, mistake.wrong, mistake.right, nearest=mistake.near)
        return None
    return found


def _range(text: str, ranges: Mapping[str, Expectation]) -> Expectation:
    if text in ranges:
        return ranges[text]
    if NAME.fullmatch(text):
        right = "name one of site.yaml's ranges, or write `25..35 deg away`"
        raise WrongError(f"there is no range named `{text}`", right, nearest(text, ranges))
    return expectation(text)


def _check_unit(found: Expectation, dimension: Dimension) -> None:
    if found.unit not in UNITS[dimension]:
        raise WrongError(f"`{found.text}` is no range for {_a(dimension)}", _RIGHT[dimension])


def _check_sign(found: Expectation, ways: tuple[str, ...]) -> None:
    """A signed measure's range says which way; one without a sign takes none."""
    if not ways and (found.way is not None or found.low < 0):
        raise WrongError(
            f"`{found.text}` says a way, and this measure has none", "write the range without signs or words"
        )
    if ways and not found.signed:
        raise WrongError(
            f"`{found.text}` does not say which way", f"write `{found.text} {ways[1]}`, or signs: `-1..1`"
        )
    if ways and found.way is not None and found.way not in ways:
        raise WrongError(f"`{found.way}` is not a way of this measure", f"write `{ways[0]}` or `{ways[1]}`")


def _a(dimension: Dimension) -> str:
    return "an angle" if dimension == "angle" else f"a {dimension}"
