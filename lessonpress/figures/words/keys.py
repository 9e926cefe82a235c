"""The lines under a plate that say what its letters are."""

from __future__ import annotations

from collections.abc import Iterable

from lessonpress.figures.plates import DrawnOverlay, Key, Panel
from lessonpress.overlays import Tag
from lessonpress.records import Otherwise, in_reading


def keys_of(panels: Iterable[Panel]) -> tuple[Key, ...]:
    """A line for each letter in the order of meeting; several numbers of one letter share it."""
    by_letter: dict[str, list[DrawnOverlay]] = {}
    for panel in panels:
        for drawn in panel.drawn:
            if drawn.letter:
                by_letter.setdefault(drawn.letter, []).append(drawn)
    return tuple(_key(letter, drawn) for letter, drawn in by_letter.items())


def _key(letter: str, drawn: list[DrawnOverlay]) -> Key:
    first = drawn[0]
    numbers = tuple(dict.fromkeys(one.measure.id for one in drawn if one.measure is not None))
    return Key(
        (letter,),
        first.colour,
        first.standing,
        _words(drawn, [one.name for one in drawn]),
        numbers,
        _words_otherwise(drawn),
    )


def _words_otherwise(drawn: list[DrawnOverlay]) -> Otherwise:
    readings = dict.fromkeys(reading for one in drawn for reading, _ in one.name_otherwise)
    names = {
        reading: [in_reading(one.name, one.name_otherwise, reading) for one in drawn] for reading in readings
    }
    return tuple((reading, _words(drawn, said)) for reading, said in names.items())


def _words(drawn: list[DrawnOverlay], names: list[str]) -> str:
    """What it is, with what the author has it lettered: a narrow plate has room for the letter alone."""
    said = dict.fromkeys(
        tag.words for one in drawn for tag in one.shapes if isinstance(tag, Tag) and tag.words
    )
    return ", ".join([names[0], *(f"“{words}”" for words in said)])
