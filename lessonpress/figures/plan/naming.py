"""Checks of the events and marks that a figure names, which need no picture."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.figures.plan.instants import check_event
from lessonpress.manuscript import CARD, MARK_FILES, Clip
from lessonpress.overlays import OverlayFields, OverlayKind, check_marks
from lessonpress.records import Instant, Location, Problems

NAMING_MARKS = (CARD, *MARK_FILES, "middles", "room")  # where a clip's marks are named: see Clip.faults
_KEYS = {"placed": "placed", "since": "since", "start": "from", "to": "to", "end": "to"}


def check_names(overlay: tuple[OverlayKind, OverlayFields], clip: Clip, problems: Problems) -> None:
    """Report marks and events that the clip cannot have, whether its footage can be used or not."""
    kind, fields = overlay
    if not clip.doubted(*NAMING_MARKS):
        check_marks(fields, clip.name, clip.mark_names, problems)
    for instant, location in instants_of(kind, fields):
        check_instant(instant, clip, location, problems)


def check_instant(instant: Instant, clip: Clip, location: Location, problems: Problems) -> None:
    """Report an event that the clip's card does not name; other instants need the footage."""
    if instant.event is not None:
        check_event(instant.event, clip, location, problems, clip.readable.events if clip.readable else ())


def instants_of(kind: OverlayKind, fields: OverlayFields) -> Iterator[tuple[Instant, Location]]:
    """What an overlay looks back to or is placed at, with where that is written."""
    for name, key in _KEYS.items():
        instant = getattr(fields, name, None)
        if isinstance(instant, Instant):
            written = fields.node is not None and key in fields.node.keys
            yield instant, fields.location_of(key) if written else fields.key_location(kind.KIND)
