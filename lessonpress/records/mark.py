"""A named point in a picture, and the names on which posture, drawing and words depend."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

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


@dataclass(frozen=True)
class SuggestedErrors:
    """How the errors of suggested places go together; their sizes are the places' own u.

    lasts: real seconds after which a mark's error has become another. own: share of its variance that
    each picture has for itself. axes: mark → times a place's u for the standard uncertainty across and
    down, of which u is the root mean square; 1 for a mark that is not named. pairs: part of the body →
    correlation of the errors of its lead and its trail side in one picture, across and down; 0 for a part
    that is not named. neck: mark above the shoulders → correlation of its error with one that all
    named there have in common, across and down; where signs differ they err oppositely.
    """

    lasts: float
    own: float
    axes: Mapping[str, tuple[float, float]]
    pairs: Mapping[str, tuple[float, float]]
    neck: Mapping[str, tuple[float, float]] = field(default_factory=dict)
