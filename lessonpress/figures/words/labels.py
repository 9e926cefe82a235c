"""Numbers printed in labels, keys and alt texts: `label: "back {navel-back:value}"`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from lessonpress.figures.plates import DrawnOverlay, Key, Panel, Plate
from lessonpress.figures.words.printing import text_of
from lessonpress.measure import Units
from lessonpress.overlays import OverlayFields, Shape, Tag, TagText
from lessonpress.records import Measure, Otherwise, Problems, Reading, differing, in_reading, other_readings

MOST_LETTERED = 40  # characters: about what a picture on a phone has room for beside the letter
MOST_DRAWN = 400  # characters: a key of more fills a picture of its own, and a slide of it the memory
_PRINTED = 8  # characters that a number printed in a label takes, about
_BRACE = re.compile(r"\\([{}])|\{([a-z][a-z0-9.-]*)(?::([a-z]+))?\}")


def check_length(fields: OverlayFields, problems: Problems) -> None:
    """Warn of a label, or a note's text, that a phone's picture has no room for; refuse one that none has."""
    for key in ("label", "text"):
        written = getattr(fields, key, None)
        if not isinstance(written, str):
            continue
        long = len(_BRACE.sub(lambda brace: brace[1] or "0" * _PRINTED, written))
        if long > MOST_DRAWN:
            problems.error(
                fields.location_of(key),
                f"this {key} of {long} characters is longer than any picture has room for",
                f"say it in {MOST_LETTERED} characters or fewer, and the rest in the caption",
            )
        elif long > MOST_LETTERED:
            problems.warn(
                fields.location_of(key),
                f"this {key} of {long} characters is too long for its tag: on a phone only the key has it",
                f"say it in {MOST_LETTERED} characters or fewer, and the rest in the caption",
            )


@dataclass(frozen=True)
class _Numbers:
    """Fills references in, in the site's own reading and in all others."""

    named: Mapping[str, Measure]
    units: Units

    def own(self, text: str) -> str:
        return filled(text, self.named, Reading(self.units))

    def otherwise(self, text: str, otherwise: Otherwise) -> Otherwise:
        return differing(
            self.own(text),
            [
                (reading, filled(in_reading(text, otherwise, reading), self.named, reading))
                for reading in other_readings(self.units)
            ],
        )


def with_numbers(plate: Plate, named: Mapping[str, Measure], units: Units) -> Plate:
    """The plate with every reference in its labels, its keys and its alt text printed, in every reading."""
    numbers = _Numbers(named, units)
    return replace(
        plate,
        alt=numbers.own(plate.alt),
        alt_otherwise=numbers.otherwise(plate.alt, plate.alt_otherwise),
        panels=tuple(_panel(panel, numbers) for panel in plate.panels),
        between=tuple(_panel(panel, numbers) for panel in plate.between),
        keys=tuple(_key(key, numbers) for key in plate.keys),
    )


def filled(text: str, named: Mapping[str, Measure], reading: Reading) -> str:
    """A plain text with its references printed; unknown ones stay as written and are reported elsewhere."""

    def put(match: re.Match[str]) -> str:
        brace, name, form = match.groups()
        if brace:
            return str(brace)
        return text_of(named[name], form or "", reading) if name in named else match[0]

    return _BRACE.sub(put, text)


def _panel(panel: Panel, numbers: _Numbers) -> Panel:
    return replace(panel, drawn=tuple(_drawn(drawn, numbers) for drawn in panel.drawn))


def _key(key: Key, numbers: _Numbers) -> Key:
    otherwise = numbers.otherwise(key.words, key.words_otherwise)
    return replace(key, words=numbers.own(key.words), words_otherwise=otherwise)


def _drawn(drawn: DrawnOverlay, numbers: _Numbers) -> DrawnOverlay:
    return replace(
        drawn,
        sentence=numbers.own(drawn.sentence),
        sentence_otherwise=numbers.otherwise(drawn.sentence, drawn.sentence_otherwise),
        shapes=tuple(_shape(shape, numbers) for shape in drawn.shapes),
    )


def _shape(shape: Shape, numbers: _Numbers) -> Shape:
    if not isinstance(shape, Tag):
        return shape
    own = TagText(numbers.own(shape.words), shape.value, shape.pm)
    said = dict(shape.otherwise)
    texts = [
        (reading, replace(said.get(reading, own), words=filled(shape.words, numbers.named, reading)))
        for reading in other_readings(numbers.units)
    ]
    return replace(
        shape,
        words=own.words,
        otherwise=tuple((reading, text) for reading, text in texts if text != own),
    )
