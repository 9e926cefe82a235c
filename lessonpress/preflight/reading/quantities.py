"""Quantities that are typed in prose, in figures and in words: "4 in", "five inches", "half past one"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from re import Match, Pattern

from lessonpress.measure import SIZE_OF_UNIT
from lessonpress.preflight.reading.wordlist import WordList
from lessonpress.records import Dimension

_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75}
_CLOCK = re.compile(r"(?<![\d:.])(1[0-2]|[1-9]):([0-5]\d)(?![\d:])")
_BEFORE = 20  # characters before a time that say whether it is one of the day
_MOST_WORDS = 6  # of one number: what is said in more is none, and would be tried in too many ways
_SIZES = {**SIZE_OF_UNIT, "km/h": 1 / 3.6}  # what is typed and never printed too
_SPEEDS: tuple[str, ...] = ("mph", "m/s", "km/h")
_DIMENSIONS: dict[str, Dimension] = {
    "deg": "angle",
    "%": "percent",
    **dict.fromkeys(_SPEEDS, "speed"),
}


@dataclass(frozen=True)
class Quantity:
    """low, high: in m, m/s, deg or %, a clock time in degrees past 12; the same but for a range.

    step: how finely it is said, in the same unit: 1 in of "4 in", 0.1 in of "4.0 in". start, end: offsets in
    the text it was found in.
    """

    dimension: Dimension
    low: float
    high: float
    step: float
    written: str
    start: int
    end: int

    @property
    def is_range(self) -> bool:
        return self.low != self.high


def quantities_in(text: str, words: WordList) -> Iterator[Quantity]:
    """The quantities of a text in order, each with its unit; numbers without one are none."""
    found = [_quantity(match, words) for match in _pattern(words).finditer(text)]
    clocks = [_clock(match) for match in _CLOCK.finditer(text)] + _spoken_clocks(text, words)
    found += [one for one in clocks if not _is_of_day(one, text, words)]
    yield from sorted((one for one in found if one is not None), key=lambda one: one.start)


# one pattern a language: WordList holds a mapping, so it is known by its id
@cache
def _pattern_of(numbers: tuple[str, ...], units: tuple[str, ...], to: str, joins: str) -> Pattern[str]:
    word = "|".join(sorted((re.escape(one) for one in numbers), key=len, reverse=True))
    figure = r"\d+(?:[.,]\d+)*(?:\s?[½¼¾]|[\s-]+[1-9]/[248](?!\d))?|[½¼¾]"
    said = rf"(?:{word})(?:{joins}(?:{word})){{0,{_MOST_WORDS - 1}}}(?!\w)"
    number = rf"(?:{figure}|{said})"
    unit = "|".join(units)
    return re.compile(
        rf"(?<![\w.,/:#-])(?P<low>{number})(?:\s*(?:{unit})?\s*(?:–|—|\.\.|-|\s(?:{to})\s)\s*(?P<high>{number}))?"
        rf"[\s-]*(?P<unit>{unit})",
        re.IGNORECASE,
    )


def _pattern(words: WordList) -> Pattern[str]:
    return _pattern_of(
        tuple(words.number_words),
        tuple(words.units),
        "|".join(words.lists["to"]),
        words.lists["joins"],
    )


def _quantity(match: Match[str], words: WordList) -> Quantity | None:
    unit = _unit(match, words)
    first, second = _plain(match["low"], words), _plain(match["high"] or match["low"], words)
    low, high = _number(first, words), _number(second, words)
    if unit is None or low is None or high is None:
        return None
    size = _SIZES[unit]
    low, high = min(low, high) * size, max(low, high) * size
    dimension = _DIMENSIONS.get(unit, "length")
    step = _step(first, words) * size
    return Quantity(dimension, low, high, step, match[0], match.start(), match.end())


def _unit(match: Match[str], words: WordList) -> str | None:
    """The unit of `_SIZES` that is written there, in the sight of what comes before and after it."""
    for written, unit in words.units.items():
        if re.compile(written, re.IGNORECASE).match(match.string, match.start("unit")):
            return unit
    return None


def _plain(written: str, words: WordList) -> str:
    """A number with a point before its tenths, and thousands not parted."""
    parting = "." if words.decimal == "," else ","
    thousands = rf"(?<![\d.,])[1-9]\d{{0,2}}(?:\{parting}\d{{3}})+(?![\d{parting}])"
    return re.sub(thousands, lambda said: said[0].replace(parting, ""), written).replace(",", ".")


def _number(written: str, words: WordList) -> float | None:
    """The value of a number in figures or in words; None for words that make none."""
    if written[0].isdigit() or written[0] in _FRACTIONS:
        return _figures(written) if written.count(".") < 2 else None
    value = 0.0
    for word in re.findall("|".join(_longest_first(words)), written.lower()):
        value += words.number_words[word]
    return value or None


def _longest_first(words: WordList) -> list[str]:
    return sorted((re.escape(one) for one in words.number_words), key=len, reverse=True)


def _figures(written: str) -> float:
    value = 0.0
    for part in re.findall(r"[½¼¾]|\d/\d|\d+(?:\.\d+)?", written):
        if part in _FRACTIONS:
            value += _FRACTIONS[part]
        elif "/" in part:
            value += int(part[0]) / int(part[2])
        else:
            value += float(part)
    return value


def _step(written: str, words: WordList) -> float:
    """How finely a number is said: to whole ones, to tenths, to halves where a fraction is said."""
    decimals = re.search(r"\.(\d+)", written)
    if decimals:
        return float(10 ** -len(decimals[1]))
    in_parts = re.search(rf"[½¼¾/]|{words.lists['parts']}", written, re.IGNORECASE)
    return 0.5 if in_parts else 1.0


def _clock(match: Match[str]) -> Quantity:
    degrees = int(match[1]) % 12 * 30 + int(match[2]) * 0.5
    return Quantity("clock", degrees, degrees, 7.5, match[0], match.start(), match.end())


def _is_of_day(clock: Quantity, text: str, words: WordList) -> bool:
    """Whether a time is one of the day, by the words before or after it."""
    of_day = words.lists["of_day"]
    before = text[max(0, clock.start - _BEFORE) : clock.start]
    return bool(
        re.search(rf"(?<!\w)(?:{of_day['before']})\s*$", before, re.IGNORECASE)
        or re.match(rf"\s*(?:{of_day['after']})(?!\w)", text[clock.end : clock.end + _BEFORE], re.IGNORECASE)
    )


def _spoken_clocks(text: str, words: WordList) -> list[Quantity]:
    """ "half past one", "nine o'clock": to the half hour that such words are good for."""
    hours = {name: value for name, value in words.number_words.items() if value in range(1, 13)}
    hour = "|".join(sorted(hours, key=len, reverse=True)) + r"|1[0-2]|[1-9]"
    found = []
    for shift, pattern in words.lists["clock"].items():
        for match in re.finditer(pattern.replace("HOUR", rf"(?P<hour>{hour})"), text, re.IGNORECASE):
            said = match["hour"].lower()
            value = hours[said] if said in hours else float(said)
            degrees = (value % 12 * 30 + float(shift) * 0.5) % 360
            found.append(Quantity("clock", degrees, degrees, 15.0, match[0], match.start(), match.end()))
    return found
