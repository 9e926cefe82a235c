"""Damage to films: a family a module, `damaged(films, random)` gives the file and says what it is."""

from __future__ import annotations

from tests.corpus.videos import bits, boxes, foreign, shapes, stretches, whole
from tests.corpus.videos.film import DamagedBy

FAMILIES: dict[str, DamagedBy] = {
    "bits": bits.damaged,
    "stretches": stretches.damaged,
    "boxes": boxes.damaged,
    "shapes": shapes.damaged,
    "foreign": foreign.damaged,
    "whole": whole.damaged,
}
