"""Lengths, durations, angles and pixels as an author writes them, always with their unit."""

from __future__ import annotations

import re

from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.records import METRES_PER_INCH, Length, nearest

METRES = {"in": METRES_PER_INCH, "ft": 12 * METRES_PER_INCH, "m": 1.0, "cm": 0.01, "mm": 0.001}
SECONDS = {"s": 1.0, "ms": 0.001}
BYTES = {"kB": 1e3, "MB": 1e6, "GB": 1e9, "TB": 1e12}  # decimal, as disks are sold
LENGTHS = "write `36 in`, `5 ft 10 in`, `1.2 m`, `91.4 cm` or `914 mm`"
OTHER_NAMES = {
    "inch": "in", "inches": "in", '"': "in", "″": "in", "feet": "ft", "foot": "ft", "'": "ft", "′": "ft",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "millimetres": "mm", "centimetres": "cm",
    "sec": "s", "seconds": "s", "msec": "ms", "degrees": "deg", "degree": "deg", "pixels": "px",
}  # fmt: skip

_NUMBER = r"[-+−]?(?:[0-9]{1,12}(?:\.[0-9]{1,12})?|\.[0-9]{1,12})"
_QUANTITY = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>[^\s0-9]\S*)")
_FRACTION = re.compile(r"1\s?/\s?(?P<parts>[0-9]{1,6})\s*s")
_FEET = re.compile(rf"(?P<sign>[-+−]?)(?P<feet>[0-9]{{1,6}})\s*ft\s+(?P<inches>{_NUMBER})\s*in")


def length(text: str) -> Length:
    """A length in metres, of either sign, with its text. Raises InvalidValueError."""
    text = " ".join(text.split())
    feet = _FEET.fullmatch(text)
    if feet is None:
        return Length(_in_units(text, METRES, "length", LENGTHS), text)
    inches = _value(feet["inches"])
    if not 0 <= inches < 12:
        raise InvalidValueError(
            f"`{text}` has {inches:g} inches to the foot", "inches after feet are below 12"
        )
    metres = int(feet["feet"]) * METRES["ft"] + inches * METRES["in"]
    return Length(-metres if feet["sign"] in ("-", "−") else metres, text)


def duration(text: str) -> float:
    """A time in seconds, not below zero (a global shutter has 0). Raises InvalidValueError."""
    seconds = _in_units(text, SECONDS, "duration", "write `4 ms` or `0.5 s`")
    if seconds < 0:
        raise InvalidValueError(f"`{text}` is not a duration", "it is not below zero")
    return seconds


def exposure(text: str) -> float:
    """An exposure in seconds, as cameras say it (`1/500 s`) or as a duration. Raises InvalidValueError."""
    text = " ".join(text.split())
    if re.fullmatch(r"1\s?/\s?[0-9]{1,6}", text):
        raise InvalidValueError(f"`{text}` has no unit", f"write `{text} s`")
    part = _FRACTION.fullmatch(text)
    if part is None:
        return duration(text)
    if int(part["parts"]) == 0:
        raise InvalidValueError(f"`{text}` is not a duration", "write `1/500 s` or `2 ms`")
    return 1 / int(part["parts"])


def angle(text: str) -> float:
    """An angle in degrees, of either sign. Raises InvalidValueError."""
    return _in_units(text, {"deg": 1.0, "°": 1.0}, "angle", "write `90 deg`")


def pixels(text: str) -> float:
    """A length in the picture, px, above zero. Raises InvalidValueError."""
    value = _in_units(text, {"px": 1.0}, "length in pixels", "write `1450 px`")
    if value <= 0:
        raise InvalidValueError(f"`{text}` is not a length in pixels", "it is above zero")
    return value


def data_size(text: str) -> float:
    """A size in bytes, above zero. Raises InvalidValueError."""
    size = _in_units(text, BYTES, "size", "write `5 GB` or `800 MB`")
    if size <= 0:
        raise InvalidValueError(f"`{text}` is not a size", "it is above zero")
    return size


def _in_units(text: str, units: dict[str, float], what: str, right: str) -> float:
    text = " ".join(text.split())
    written = _QUANTITY.fullmatch(text)
    if written is None:
        raise _no_quantity(text, what, right)
    unit = written["unit"]
    if unit not in units:
        known = OTHER_NAMES.get(unit.lower(), unit.lower())
        near = (known,) if known in units else nearest(unit, units)
        raise InvalidValueError(f"`{unit}` is not a unit of {_article(what)} here", right, near)
    return _value(written["number"]) * units[unit]


def _value(number: str) -> float:
    return float(number.replace("−", "-"))


def _article(what: str) -> str:
    return f"an {what}" if what[0] in "aeiou" else f"a {what}"


def _no_quantity(text: str, what: str, right: str) -> InvalidValueError:
    if re.fullmatch(_NUMBER, text):
        return InvalidValueError(f"`{text}` has no unit", right)
    return InvalidValueError(f"`{text}` is not {_article(what)}", right)
