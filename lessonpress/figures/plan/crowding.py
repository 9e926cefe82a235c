"""A limit on the overlays of one picture, beyond which letters cannot be told apart."""

from __future__ import annotations

from collections.abc import Iterable

from lessonpress.figures.plan.planned import PlannedPanel
from lessonpress.records import Problems

# A letter takes 26 × 26 CSS px with the room about it: forty of them are a sixth of a picture of 360 × 450,
# as a phone shows it. Our own choice; there is no published source.
MOST_SHOWN = 40


def check_crowding(panels: Iterable[PlannedPanel], problems: Problems) -> bool:
    """Whether every picture can be read; else an error, once, at the first overlay that is too many."""
    for panel in panels:
        shown = [one for one in panel.overlays if one.fields.show and one.drawn_on(panel.frame)]
        if len(shown) > MOST_SHOWN:
            problems.error(
                shown[MOST_SHOWN].location,
                f"one picture of this figure carries {len(shown)} overlays, and no more than {MOST_SHOWN} "
                "can be told apart",
                "draw the rest in a figure of their own, or on other pictures with `only`",
            )
            return False
    return True
