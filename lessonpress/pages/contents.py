"""What a lesson's list of contents calls its plates: their moments, and what each shows at them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from markupsafe import Markup

from lessonpress.figures import Key, Plate
from lessonpress.pages.shown import in_readings
from lessonpress.pages.words import listed, phrase
from lessonpress.records import Reading, differing, in_reading


def contents(plates: Sequence[Plate], words: Mapping[str, Any]) -> dict[str, Markup]:
    """A name for each plate in every reading, by its id; those called alike say their clips too.

    words: the theme's.
    """
    own = _names(plates, words, None)
    keys = [key for plate in plates for key in plate.keys]
    readings = dict.fromkeys(reading for key in keys for reading, _ in key.words_otherwise)
    others = [(reading, _names(plates, words, reading)) for reading in readings]
    return {
        name: in_readings(said, differing(said, [(reading, names[name]) for reading, names in others]))
        for name, said in own.items()
    }


def _names(plates: Sequence[Plate], words: Mapping[str, Any], reading: Reading | None) -> dict[str, str]:
    names = {plate.id: _name(plate, words, reading) for plate in plates}
    often = Counter(names.values())
    return {
        plate.id: _of_clips(plate, names[plate.id]) if often[names[plate.id]] > 1 else names[plate.id]
        for plate in plates
    }


def _of_clips(plate: Plate, name: str) -> str:
    return " · ".join([name, *dict.fromkeys(panel.title for panel in plate.panels)])


def _name(plate: Plate, words: Mapping[str, Any], reading: Reading | None) -> str:
    if plate.drawing is not None:
        return plate.drawing.name
    moments, shown = _moments(plate, words), _shown(plate.keys, words, reading)
    return words["lesson"]["shows"].format(moments=moments, shown=shown) if shown else moments


def _moments(plate: Plate, words: Mapping[str, Any]) -> str:
    """ "Top", "Setup and top", and of more than two the first and the last: "Setup to impact"."""
    panels = plate.panels if plate.loop is None else plate.loop.panels
    labels = [phrase(label, words) for label in dict.fromkeys(panel.label for panel in panels)]
    within = [labels[0], *(_inside(label) for label in labels[1:])] if labels else []
    if len(within) > 2:
        return str(words["plate"]["stretch"].format(first=within[0], last=within[-1]))
    return listed(within, words)


def _shown(keys: Sequence[Key], words: Mapping[str, Any], reading: Reading | None) -> str:
    """What it measures, since a plate is there for that, else what it draws: the first, and how many more."""
    telling = [key for key in keys if key.measures] or keys
    named = [in_reading(key.words, key.words_otherwise, reading) for key in telling]
    if not named:
        return ""
    first, more = _inside(named[0]).rstrip(":"), len(named) - 1
    if not more:
        return first
    numbers: Sequence[str] = words["numbers"]
    count = numbers[more] if more < len(numbers) else str(more)
    return str(words["lesson"]["and_more"].format(shown=first, count=count))


def _inside(words: str) -> str:
    """The words inside a sentence: "Top" is top, "C7" stays."""
    return words[:1].lower() + words[1:] if words[1:2].islower() else words
