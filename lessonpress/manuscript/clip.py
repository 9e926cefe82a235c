"""A clip: its card, the marks placed by hand and the tracks carried from them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from lessonpress.manuscript.card import Card
from lessonpress.records.mark import Sighting
from lessonpress.records.problem import Place


@dataclass(frozen=True)
class Clip:
    """One shot of one swing.

    folder: where its files lie. path: of the card, relative to the site. sightings: those placed by hand,
    then those tracked on frames where none was placed by hand. places: where each is written. faults: the
    names of its files that hold mistakes, so that what seems to be missing may have been written.
    """

    name: str
    folder: Path
    path: str
    card: Card | None
    sightings: tuple[Sighting, ...] = ()
    places: dict[tuple[str, int], Place] | None = None
    faults: frozenset[str] = frozenset()

    @property
    def video(self) -> Path | None:
        """The file the card names; None without a card."""
        return self.folder / self.card.video if self.card else None

    @property
    def hand_placed(self) -> tuple[Sighting, ...]:
        return tuple(sighting for sighting in self.sightings if not sighting.tracked)

    @property
    def tracks(self) -> tuple[Sighting, ...]:
        return tuple(sighting for sighting in self.sightings if sighting.tracked)

    @cached_property
    def marks(self) -> frozenset[str]:
        """Names of all marks that are placed or tracked somewhere."""
        return frozenset(sighting.mark for sighting in self.sightings)

    @cached_property
    def by_mark_and_frame(self) -> dict[tuple[str, int], Sighting]:
        return {(sighting.mark, sighting.frame): sighting for sighting in self.sightings}

    def place_of_mark(self, name: str, frame: int) -> Place:
        """Where a sighting is written; the start of the clip's marks.yaml where there is none."""
        start = Place(self.path.replace("clip.yaml", "marks.yaml"))
        return (self.places or {}).get((name, frame), start)
