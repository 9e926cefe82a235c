"""Overlays kept from another instant that were drawn at that instant too: they share a letter.

A line dropped at setup is drawn, dashed, on later plates. It is the same line of the room there, unless
the lesson draws the live line at other instants too: then the live one's letter means "where the mark is
now", and what is kept needs a letter of its own.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator

from lessonpress.figures.plan.planned import Planned, PlannedOverlay, PlannedPanel

_Spot = tuple[str, int]  # clip and frame


def remembered(planned: Iterable[Planned]) -> dict[Hashable, Hashable]:
    """What each kept overlay of the lesson is the same as, by what sets it apart by itself."""
    live: dict[Hashable, set[_Spot]] = {}
    kept: dict[Hashable, set[_Spot]] = {}
    lines: dict[Hashable, Hashable] = {}
    for at, overlay in _shown(planned):
        placed = overlay.fields.placed
        if placed is None:
            live.setdefault(overlay.sameness, set()).add((at.filmed.name, at.frame))
        else:
            kept.setdefault(overlay.sameness, set()).add((at.filmed.name, overlay.instants[placed.text]))
            lines[overlay.sameness] = overlay.sameness_at_its_instant
    return {one: lines[one] for one, spots in kept.items() if set() < live.get(lines[one], set()) <= spots}


def _shown(planned: Iterable[Planned]) -> Iterator[tuple[PlannedPanel, PlannedOverlay]]:
    for figure in planned:
        for at in figure.panels:
            for overlay in at.overlays:
                if overlay.fields.show and overlay.drawn_on(at.frame):
                    yield at, overlay
