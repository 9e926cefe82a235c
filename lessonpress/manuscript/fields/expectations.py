"""What an author expects of a measure: `25..35 deg away`, `-1..1 in`, `2.8..3.2`."""

from __future__ import annotations

import re
from dataclasses import dataclass

from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.records import nearest

UNITS = ("in", "cm", "mm", "m", "ft", "deg", "mph", "m/s", "%")
WAYS = {"toward": 1, "away": -1, "up": 1, "down": -1}
RIGHT = "write `25..35 deg away`, `8..14 in toward` or `-1..1 in`"

_NUMBER = r"[-+−]?(?:[0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})"
_CLOCK = r"(?:1[0-2]|[1-9]):[0-5][0-9]"
_RANGE = re.compile(rf"(?P<low>{_NUMBER})\s*(?:\.\.|–)\s*(?P<high>{_NUMBER})(?P<rest>.*)")
_CLOCKS = re.compile(rf"(?P<low>{_CLOCK})\s*(?:\.\.|–)\s*(?P<high>{_CLOCK})")


@dataclass(frozen=True)
class Expectation:
    """A range as written. low ≤ high, in `unit`, both along `way` where there is one.

    unit: one of UNITS, "clock" (low and high are then minutes past 12 o'clock, and a range past 12 has
    high above 720), or "" for a plain ratio. signed: a word or a sign says which way is meant.
    """

    low: float
    high: float
    unit: str
    way: str | None
    text: str
    signed: bool = False

    @property
    def bounds(self) -> tuple[float, float]:
        """Lowest and highest value, positive toward the target (or the ball) and up."""
        return (-self.high, -self.low) if WAYS.get(self.way or "", 1) < 0 else (self.low, self.high)


def parse_expectation(text: str) -> Expectation:
    """The range that a text states. Raises InvalidValueError where it states none."""
    text = " ".join(text.split())
    if clocks := _CLOCKS.fullmatch(text):
        low, high = _minutes(clocks["low"]), _minutes(clocks["high"])
        return Expectation(low, high if high >= low else high + 720, "clock", None, text)
    written = _RANGE.fullmatch(text)
    if written is None:
        raise InvalidValueError(f"`{text}` is not a range", RIGHT)
    low, high = (float(written[part].replace("−", "-")) for part in ("low", "high"))
    unit, way = _unit_and_way(written["rest"].split())
    signs = written["low"][0] in "+-−" or written["high"][0] in "+-−"
    if low > high:
        raise InvalidValueError(
            f"`{text}` runs from the larger to the smaller", "write the smaller number first"
        )
    if way and signs:
        raise InvalidValueError(
            f"`{text}` has both a sign and a word for the direction", f"write signs or `{way}`, not both"
        )
    return Expectation(low, high, unit, way, text, bool(way) or signs)


def _minutes(clock: str) -> float:
    hours, minutes = clock.split(":")
    return int(hours) % 12 * 60.0 + int(minutes)


def _unit_and_way(words: list[str]) -> tuple[str, str | None]:
    unit = ""
    if words and words[0] not in WAYS:
        unit = {"°": "deg"}.get(words[0], words[0])
        words = words[1:]
        if unit not in UNITS:
            raise InvalidValueError(
                f"`{unit}` is not a unit of a range", f"units are {', '.join(UNITS)}", nearest(unit, UNITS)
            )
    way = words.pop(0) if words else None
    if way is not None and (way not in WAYS or words):
        wrong = " ".join([way, *words])
        raise InvalidValueError(
            f"`{wrong}` is not a direction", f"directions are {', '.join(WAYS)}", nearest(wrong, WAYS)
        )
    return unit, way
