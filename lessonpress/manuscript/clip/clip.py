"""A clip: its card, the marks placed by hand and the tracks carried from them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from lessonpress.manuscript.clip.card import Card
from lessonpress.manuscript.yaml.nodes import Mapping
from lessonpress.records import Location, Observation

CARD = "clip.yaml"
SUGGESTIONS = "suggested.csv"
MARKS = "marks.yaml"
MARK_FILES = (MARKS, "tracks.csv")
# what a measure rests on; a slip in anything else leaves every number as it is
NUMBERS = (
    CARD,
    *MARK_FILES,
    *("view", "hand", "target", "filmed_at", "readout", "shutter", "events", "stature", "implement_length"),
    *("middles", "room", "scale", "camera", "plumb", "lens", "depth", "deinterlace", "second_view"),
    "other_swing",
)


@dataclass(frozen=True)
class Clip:
    """One shot of one swing.

    folder: where its files lie. path: of the card, relative to the site. observations: those placed by hand,
    then those tracked on frames where none was placed by hand. locations: where each is written.
    card: None where it makes none. readable: the card with its sound fields and with stand-ins for others, to
    hold a lesson's names against and never to be measured by. faults: what holds mistakes, so that what
    seems to be missing may have been written: keys of the card, CARD for the whole of it, MARK_FILES.
    """

    name: str
    folder: Path
    path: str
    card: Card | None
    observations: tuple[Observation, ...] = ()
    locations: dict[tuple[str, int], Location] | None = None
    faults: frozenset[str] = frozenset()
    readable: Card | None = None

    @property
    def title(self) -> str:
        """What readers are shown: the card's title, else the folder's name."""
        return (self.card.title if self.card else None) or self.name

    @property
    def video(self) -> Path | None:
        """The file the card names; None without a card."""
        return self.folder / self.card.video if self.card else None

    @property
    def hand_placed(self) -> tuple[Observation, ...]:
        return tuple(observation for observation in self.observations if not observation.tracked)

    @property
    def tracks(self) -> tuple[Observation, ...]:
        return tuple(observation for observation in self.observations if observation.tracked)

    def doubted(self, *parts: str) -> bool:
        """Whether one of these keys of the card, or of these files, holds a mistake."""
        return not self.faults.isdisjoint(parts)

    @property
    def marks_path(self) -> str:
        """Of its marks.yaml, relative to the site."""
        return self.path.replace(CARD, MARKS)

    def writes_event(self, name: str) -> bool:
        """Whether the card has an event of this name, or may have: its events cannot be read."""
        node = self.readable.node if self.readable else None
        events = node.get("events") if node else None
        return name in events.keys if isinstance(events, Mapping) else self.doubted("events", CARD)

    @cached_property
    def mark_names(self) -> frozenset[str]:
        """Every mark, middle and room mark by name."""
        card = self.readable
        return self.marks | (frozenset((*card.middles, *card.room)) if card else frozenset())

    @cached_property
    def marks(self) -> frozenset[str]:
        """Names of all marks that are placed or tracked somewhere."""
        return frozenset(observation.mark for observation in self.observations)

    @cached_property
    def by_mark_and_frame(self) -> dict[tuple[str, int], Observation]:
        return {(observation.mark, observation.frame): observation for observation in self.observations}

    def location_of_mark(self, name: str, frame: int) -> Location:
        """Where an observation is written; the start of the clip's marks.yaml where there is none."""
        start = Location(self.marks_path)
        return (self.locations or {}).get((name, frame), start)
