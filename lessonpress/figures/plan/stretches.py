"""A strip from one instant to another: the pictures it names, the events it passes, what lies between."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from lessonpress.figures.plan.fields import MOST_PICTURES, StripFields, suffixes_of
from lessonpress.figures.plan.instants import DAMAGED
from lessonpress.figures.plan.planned import PlannedPanel
from lessonpress.records import Instant, Problems

Panels = tuple[PlannedPanel, ...]


def filled(named: Panels, fields: StripFields, problems: Problems) -> tuple[Panels, Panels]:
    """What is named, with the events that the stretch passes, and what lies between, both in their order.

    Neither once it is reported why. named: the panels of the strip's shots, the ends of the stretch first and
    last; none where a shot cannot be shown.
    """
    if not named or not _is_in_order(named, fields, problems) or fields.lost("every"):
        return (), ()
    told = _with_events(named)
    frames = _stepped(named[0], named[-1].frame, fields.every)
    between = [frame for frame in frames if frame not in {at.frame for at in told}]
    if len(told) + len(between) > MOST_PICTURES:
        problems.error(
            fields.location_of("every") if "every" in fields.model_fields_set else fields.location_of("to"),
            f"this strip has {len(told) + len(between)} pictures, and no more than {MOST_PICTURES} are shown",
            f"write `every: {_fitting(named[0], told)}` or more frames, or choose a shorter stretch",
        )
        return (), ()
    damaged = [frame for frame in between if named[0].filmed.index.is_damaged(frame)]
    if damaged:
        wrong = f"this strip runs over frame {damaged[0]}, and that picture of its clip is damaged"
        problems.error(fields.location_of("to"), wrong, DAMAGED)
        return (), ()
    made = (replace(named[0], frame=one, instant=Instant(str(one), frame=one), suffix="") for one in between)
    return told, tuple(made)


def _is_in_order(named: Panels, fields: StripFields, problems: Problems) -> bool:
    """Whether its instants go forward; else each that does not is reported."""
    late = [
        (shot, before)
        for (before, at), shot in zip(pairwise(named), fields.shots[1:], strict=True)
        if at.frame <= before.frame
    ]
    for shot, before in late:
        problems.error(
            fields.location_of(*shot.loc),
            f"`{shot.instant.text}` does not come after `{before.instant.text}`",
            "a strip `from` one instant `to` another goes forward, its `frames` between them in order",
        )
    return not late


def _with_events(named: Panels) -> Panels:
    """Those named and the clip's events between them, by time; their measures' ids end as in any strip."""
    first, last = named[0].frame, named[-1].frame
    known = {at.frame for at in named}
    passed = [
        replace(named[0], frame=frame, instant=Instant(event, event=event))
        for event, frame in named[0].filmed.events.items()
        if first < frame < last and frame not in known
    ]
    # two events may be of one picture
    once = {at.frame: at for at in (*passed, *named)}
    told = [once[frame] for frame in sorted(once)]
    suffixes = suffixes_of([None if at.instant.plus else at.instant.event for at in told])
    return tuple(replace(at, suffix=suffix) for at, suffix in zip(told, suffixes, strict=True))


def _stepped(first: PlannedPanel, last: int, every: int | float) -> Sequence[int]:
    """The frames of the stretch, `every` frames or seconds apart; a repeated picture is none of them."""
    seconds = first.filmed.seconds
    new = [
        frame
        for frame in range(first.frame, last + 1)
        if frame == first.frame or seconds[frame] > seconds[frame - 1]
    ]
    if isinstance(every, int):
        return new[::every]
    taken: dict[int, int] = {}
    for frame in new:
        # times are rounded where they are written: half a microsecond is no picture
        taken.setdefault(int((seconds[frame] - seconds[first.frame] + 5e-7) / every), frame)
    return list(taken.values())


def _fitting(first: PlannedPanel, told: Panels) -> int:
    """The least `every`, in frames, at which the strip is no longer than it may be."""
    frames = {at.frame for at in told}
    every = 1
    while len(frames.union(_stepped(first, told[-1].frame, every))) > MOST_PICTURES and every < 10_000:
        every += 1
    return every
