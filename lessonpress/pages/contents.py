"""What a lesson's list of contents calls its plates."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from lessonpress.figures.plates import Plate


def contents(plates: Sequence[Plate]) -> dict[str, str]:
    """A name for each plate, by its id: its moments, and what tells it from others of the same ones."""
    told = {plate.id: _moments(plate) for plate in plates}
    often = Counter(told.values())
    return {plate.id: _apart(plate, told[plate.id], often[told[plate.id]]) for plate in plates}


def _moments(plate: Plate) -> str:
    if plate.chart is not None:
        return plate.chart.name
    return ", ".join(dict.fromkeys(panel.label for panel in plate.panels))


def _apart(plate: Plate, moments: str, times: int) -> str:
    """With its first measured line in words, since a plate is there for that; else with its first line."""
    keys = [key.words for key in plate.keys if key.measures] or [key.words for key in plate.keys]
    if times == 1 or not keys:
        return moments
    return f"{moments}: {keys[0][:1].lower()}{keys[0][1:].rstrip(':')}"
