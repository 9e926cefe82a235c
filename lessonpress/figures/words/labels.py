"""Numbers printed in labels, keys and alt texts: `label: "back {navel-back:value}"`."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from lessonpress.figures.plates import DrawnOverlay, Panel, Plate
from lessonpress.figures.words.printing import text_of
from lessonpress.measure import Units
from lessonpress.overlays import OverlayFields, Shape, Tag
from lessonpress.records import Measure, Problems

Filling = Callable[[str], str]
MOST_LETTERED = 40  # characters: about what a picture on a phone has room for beside the letter
_PRINTED = 8  # characters that a number printed in a label takes, about
_BRACE = re.compile(r"\\([{}])|\{([a-z][a-z0-9.-]*)(?::([a-z]+))?\}")


def check_length(fields: OverlayFields, problems: Problems) -> None:
    """Warn of a label, or a note's text, that a phone's picture has no room for."""
    for key in ("label", "text"):
        written = getattr(fields, key, None)
        if not isinstance(written, str):
            continue
        long = len(_BRACE.sub(lambda brace: brace[1] or "0" * _PRINTED, written))
        if long > MOST_LETTERED:
            problems.warn(
                fields.location_of(key),
                f"this {key} of {long} characters is too long for its tag: on a phone only the key has it",
                f"say it in {MOST_LETTERED} characters or fewer, and the rest in the caption",
            )


def with_numbers(plate: Plate, named: Mapping[str, Measure], units: Units) -> Plate:
    """The plate with every reference in its labels, its keys and its alt text printed."""

    def with_them(text: str) -> str:
        return filled(text, named, units)

    return replace(
        plate,
        alt=with_them(plate.alt),
        panels=tuple(_panel(panel, with_them) for panel in plate.panels),
        keys=tuple(replace(key, words=with_them(key.words)) for key in plate.keys),
    )


def filled(text: str, named: Mapping[str, Measure], units: Units) -> str:
    """A plain text with its references printed; unknown ones stay as written and are reported elsewhere."""

    def put(match: re.Match[str]) -> str:
        brace, name, form = match.groups()
        if brace:
            return str(brace)
        return text_of(named[name], form or "", units) if name in named else match[0]

    return _BRACE.sub(put, text)


def _panel(panel: Panel, filled: Filling) -> Panel:
    return replace(panel, drawn=tuple(_drawn(drawn, filled) for drawn in panel.drawn))


def _drawn(drawn: DrawnOverlay, filled: Filling) -> DrawnOverlay:
    return replace(
        drawn, sentence=filled(drawn.sentence), shapes=tuple(_shape(shape, filled) for shape in drawn.shapes)
    )


def _shape(shape: Shape, filled: Filling) -> Shape:
    return replace(shape, words=filled(shape.words)) if isinstance(shape, Tag) else shape
