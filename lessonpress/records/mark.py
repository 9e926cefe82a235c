"""A named point in a picture, and the names on which posture, drawing and words depend."""

from __future__ import annotations

from dataclasses import dataclass

PAIRED = ("heel", "ankle", "toe", "knee", "hip", "shoulder", "elbow", "wrist")
SINGLE = ("navel", "c7", "head", "crown", "implement-grip", "implement-head", "ball")
KNOWN_MARKS = tuple(f"{side}-{part}" for part in PAIRED for side in ("lead", "trail")) + SINGLE


@dataclass(frozen=True)
class Observation:
    """A mark seen in one picture.

    x, y: px of the picture. u: standard uncertainty of each axis in px, None for the default of a click.
    tracked: carried by image tracking from the hand-placed observation at frame `origin`, whose click error
    is common to all that were carried from it and is not in u.
    suggested: the program proposed this place; among a clip's marks, the author accepted it as it was.
    """

    mark: str
    frame: int
    x: float
    y: float
    u: float | None = None
    tracked: bool = False
    origin: int | None = None
    suggested: bool = False
