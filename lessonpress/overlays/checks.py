"""What an overlay means against its clip: marks nobody has placed, ranges that do not fit its measure."""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.overlays.fields import OverlayFields
from lessonpress.overlays.kind import OverlayKind
from lessonpress.records.mark import KNOWN_MARKS
from lessonpress.records.problem import Problems, nearest


@dataclass(frozen=True)
class Facts:
    """What is known of a clip: its name, and every mark, middle and room mark that it has."""

    clip: str
    marks: frozenset[str]


def check_overlay(kind: OverlayKind, fields: OverlayFields, facts: Facts, problems: Problems) -> None:
    """Report marks that neither the clip nor the list of known marks has, each at its own place.

    A known mark that is not placed yet is no slip of the pen; whoever asks what is owed tells of it.
    """
    for loc, mark in fields.mark_places():
        if mark not in facts.marks and mark not in KNOWN_MARKS:
            problems.error(
                fields.place_of(*loc),
                f"the clip {facts.clip} has no mark `{mark}`",
                _way_out(mark),
                nearest=nearest(mark, facts.marks | set(KNOWN_MARKS)),
            )


def _way_out(mark: str) -> str:
    side, dash, part = mark.partition("-")
    if dash and side in ("left", "right"):
        return f"a body has a `lead-{part}` and a `trail-{part}`, which hold for either hand"
    return "place it on a picture of the clip, or name one that is placed"
