"""A loop: every frame of a stretch with the overlays that its marks allow, and how long each is shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from lessonpress.figures.plan.fields import LoopFields
from lessonpress.figures.plan.instants import DAMAGED
from lessonpress.figures.plan.planned import PlannedPanel
from lessonpress.figures.plates import Loop, Panel
from lessonpress.records import Instant, Problems

MOST_FRAMES = 600  # a file that a phone at the range can still load


def every_frame(
    ends: Sequence[PlannedPanel], fields: LoopFields, problems: Problems
) -> tuple[PlannedPanel, ...]:
    """A panel for each frame from the first end to the second; none once it is reported why."""
    if len(ends) < 2:
        return ()
    first, last = ends
    for overlay in first.overlays:
        for key in ("as", "expect"):
            if overlay.fields.node is not None and key in overlay.fields.node.keys:
                right = "measure it on a frame or a strip"
                problems.error(overlay.fields.key_location(key), "a loop prints no number", right)
    count = last.frame - first.frame + 1
    if not 2 <= count <= MOST_FRAMES:
        wrong = f"this loop has {max(count, 0)} frames"
        problems.error(
            fields.location_of("to"), wrong, f"choose from 2 to {MOST_FRAMES}, the first before the last"
        )
        return ()
    frames = range(first.frame, last.frame + 1)
    damaged = [frame for frame in frames if first.filmed.index.is_damaged(frame)]
    if damaged:
        wrong = f"this loop runs over frame {damaged[0]}, and that picture of its clip is damaged"
        problems.error(fields.location_of("to"), wrong, DAMAGED)
        return ()
    return tuple(replace(first, frame=frame, instant=_instant(frame, first, last)) for frame in frames)


def _instant(frame: int, first: PlannedPanel, last: PlannedPanel) -> Instant:
    ends = {first.frame: first.instant, last.frame: last.instant}
    return ends.get(frame, Instant(str(frame), frame=frame))


def loop_of(planned: Sequence[PlannedPanel], panels: Sequence[Panel], slowed: float) -> Loop:
    """The loop: each picture is shown for as long as it lasted in real time, `slowed` times.

    A repeated picture lasts no time and is left out; the last one is shown as long as the one before it.
    """
    seconds = planned[0].filmed.seconds
    taken = [
        panel
        for panel, at in zip(panels, planned, strict=True)
        if _is_new(at.frame, panels[0].frame, seconds)
    ]
    lasted = [late.seconds - early.seconds for early, late in pairwise(taken)]
    lasted.append(lasted[-1] if lasted else 1 / 30)
    return Loop(tuple(taken), tuple(slowed * one for one in lasted), slowed)


def _is_new(frame: int, first: int, seconds: Sequence[float]) -> bool:
    return frame == first or seconds[frame] > seconds[frame - 1]
