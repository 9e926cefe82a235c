"""The plan of a figure: its block as read, with frames and overlays."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass

from lessonpress.figures.bind.expected import Expected
from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.figures.plan.fields import FigureFields, ProgressFields
from lessonpress.manuscript import Block
from lessonpress.overlays import OverlayFields, OverlayKind
from lessonpress.records import Instant, Location


@dataclass(frozen=True)
class PlannedOverlay:
    """instants: the frames of what it looks back to or is placed at, by the instant's text."""

    kind: OverlayKind
    fields: OverlayFields
    instants: Mapping[str, int]
    expected: Expected | None
    only: frozenset[int] | None

    @property
    def location(self) -> Location:
        return self.fields.key_location(self.kind.KIND)

    @property
    def sameness(self) -> Hashable:
        """Equal for all that is one and the same thing in a lesson."""
        return (self.kind.KIND, *self.fields.identity)

    @property
    def sameness_at_its_instant(self) -> Hashable:
        """Of the same thing where it is not kept from another instant but drawn live."""
        return (self.kind.KIND, *self.fields.model_copy(update={"placed": None}).identity)

    def location_of_mark(self, mark: str) -> Location:
        """Where the overlay names a mark; where it begins for one that it takes without naming it."""
        return next(
            (self.fields.location_of(*loc) for loc, named in self.fields.mark_places() if named == mark),
            self.location,
        )

    def drawn_on(self, frame: int) -> bool:
        return self.only is None or frame in self.only


@dataclass(frozen=True)
class PlannedPanel:
    """suffix: what its measures' ids end in, ".top" in a strip, ".first" in a pair, "" in a frame."""

    filmed: SurveyedClip
    frame: int
    instant: Instant
    overlays: tuple[PlannedOverlay, ...]
    mirrored: bool
    suffix: str = ""


@dataclass(frozen=True)
class Planned:
    """One figure that can be bound. number: its position among the lesson's figures, from 1.

    between: the pictures of a strip that lie between those it names, which are drawn and not measured.
    """

    kind: str
    id: str
    number: int
    block: Block
    fields: FigureFields
    panels: tuple[PlannedPanel, ...]
    between: tuple[PlannedPanel, ...] = ()

    @property
    def charts_lessons(self) -> bool:
        """Whether it charts numbers of other lessons."""
        return isinstance(self.fields, ProgressFields) and self.fields.measure is not None

    @property
    def overlays(self) -> tuple[PlannedOverlay, ...]:
        """What its panels show, once for each panel."""
        return tuple(overlay for panel in self.panels for overlay in panel.overlays)
