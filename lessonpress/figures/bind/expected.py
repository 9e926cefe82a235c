"""The range that a lesson expects of a measure: read, checked against the measure, and answered."""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.manuscript import Expectation, InvalidValueError, Site, parse_expectation
from lessonpress.measure import CLOCK_STEP, SIZE_OF_UNIT, Measured, answer
from lessonpress.overlays import OverlayFields
from lessonpress.records import Dimension, Location, Problems, nearest

UNITS_OF: dict[Dimension, tuple[str, ...]] = {
    "length": ("in", "cm", "mm", "m", "ft"),
    "angle": ("deg",),
    "clock": ("clock",),
    "speed": ("mph", "m/s"),
    "percent": ("%",),
    "ratio": ("",),
}
_MINUTES_A_STEP = 5  # the hour hand turns CLOCK_STEP degrees in five minutes


@dataclass(frozen=True)
class Expected:
    """A range with where it comes from: a published source, "common practice", or "" for the lesson's own."""

    range: Expectation
    source: str

    @property
    def text(self) -> str:
        return f"{self.range.text} ({self.source})" if self.source else self.range.text

    def answer(self, measured: Measured) -> str:
        """inside, at its edge or outside, by the measure's whole interval."""
        low, high = self.range.bounds
        size = CLOCK_STEP / _MINUTES_A_STEP if self.range.unit == "clock" else SIZE_OF_UNIT[self.range.unit]
        return answer(measured.low, measured.high, low * size, high * size)


def expected_of(fields: OverlayFields, site: Site, problems: Problems) -> Expected | None:
    """The range under `expect`, or None where there is none or its mistakes are reported."""
    if fields.expect is None or fields.DIMENSION is None:
        return None
    location = fields.location_of("expect")
    named = site.ranges.get(fields.expect)
    if named is not None:
        expected = Expected(named.range, named.source or "")
    else:
        written = _written(fields.expect, site, location, problems)
        if written is None:
            return None
        expected = Expected(written, "")
    return expected if _fits(expected.range, fields, fields.DIMENSION, location, problems) else None


def _written(text: str, site: Site, location: Location, problems: Problems) -> Expectation | None:
    try:
        return parse_expectation(text)
    except InvalidValueError as wrong:
        if site.lost("ranges", text):
            return None
        near = nearest(text, site.ranges)
        right = "ranges with a name are written in site.yaml" if near else wrong.right
        problems.error(location, wrong.wrong, right, nearest=near or wrong.near)
        return None


def _fits(
    range_: Expectation, fields: OverlayFields, dimension: Dimension, location: Location, problems: Problems
) -> bool:
    """Whether unit and sign of a range are those of the measure."""
    units = UNITS_OF[dimension]
    if range_.unit not in units:
        wrong = f"`{range_.text}` is not of the measure's kind"
        problems.error(
            location, wrong, f"this {dimension} takes {', '.join(unit or 'a bare number' for unit in units)}"
        )
        return False
    if fields.ways and not range_.signed:
        ways = " or ".join(f"`{range_.text} {way}`" for way in fields.ways)
        problems.error(
            location, f"`{range_.text}` does not say which way", f"write {ways}, or give both numbers signs"
        )
        return False
    if not fields.ways and range_.low < 0:
        problems.error(
            location,
            f"`{range_.text}` reaches below zero",
            "this measure has no sign and is never less than 0",
        )
        return False
    if range_.way is not None and range_.way not in fields.ways:
        right = (
            f"write {' or '.join(fields.ways)}"
            if fields.ways
            else "leave the word out: this measure has no sign"
        )
        problems.error(location, f"`{range_.way}` is not a direction of this measure", right)
        return False
    return True
