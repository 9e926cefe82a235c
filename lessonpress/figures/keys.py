"""The lines under a plate that say what its letters are."""

from __future__ import annotations

from collections.abc import Iterable

from lessonpress.figures.plates import Drawn, Key, Panel


def keys_of(panels: Iterable[Panel]) -> tuple[Key, ...]:
    """A line for each letter in the order of meeting; several numbers of one letter share it."""
    by_letter: dict[str, list[Drawn]] = {}
    for panel in panels:
        for drawn in panel.drawn:
            if drawn.letter:
                by_letter.setdefault(drawn.letter, []).append(drawn)
    return tuple(_key(letter, drawn) for letter, drawn in by_letter.items())


def _key(letter: str, drawn: list[Drawn]) -> Key:
    first = drawn[0]
    numbers = tuple(dict.fromkeys(one.measure.id for one in drawn if one.measure is not None))
    return Key((letter,), first.colour, first.standing, first.name, numbers)
