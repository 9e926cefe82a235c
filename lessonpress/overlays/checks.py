"""What an overlay means against its clip: marks that are not placed, ranges that do not fit its measure."""

from __future__ import annotations

from collections.abc import Set

from lessonpress.measure import Refusal
from lessonpress.overlays.kind import OverlayKind
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.records import KNOWN_MARKS, Problems, nearest


def check_scale(
    kind: OverlayKind, fields: OverlayFields, refused: Refusal | None, problems: Problems
) -> None:
    """Report what has no scale to be drawn to. refused: why the clip gives no lengths."""
    if fields.needs_scale and refused is not None:
        wrong = f"`{kind.KIND}` is drawn to scale, and {refused.reason}"
        problems.error(fields.key_location(kind.KIND), wrong, refused.way_out)


def check_marks(fields: OverlayFields, clip: str, marks: Set[str], problems: Problems) -> None:
    """Report marks that neither the clip nor the trade knows. marks: the clip's, middles and the room's too.

    A known mark that is not placed yet is no mistake here; it is reported where the needed ones are listed.
    """
    for loc, mark in fields.mark_places():
        if mark not in marks and mark not in KNOWN_MARKS:
            problems.error(
                fields.location_of(*loc),
                f"the clip {clip} has no mark `{mark}`",
                _way_out(mark),
                nearest=nearest(mark, marks | set(KNOWN_MARKS)),
            )


def _way_out(mark: str) -> str:
    side, dash, part = mark.partition("-")
    if dash and side in ("left", "right"):
        return f"a body has a `lead-{part}` and a `trail-{part}`, which hold for either hand"
    return "place it on a picture of the clip, or name one that is placed"
