"""How the clocks of two clips are to each other, from an instant that both cards name.

Impact is seen sharply, to half a picture before or after; any other instant is a matter of judgement.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lessonpress.measure.inputs.setting import Setting
from lessonpress.measure.uncertainty.quantities import Quantity

JUDGED = 0.04  # s, u with which people choose the same picture for an instant other than impact (own choice)
LOOSE = 0.5  # s, the same of instants at which a golfer stands
STANDING = ("setup", "finish")


@dataclass(frozen=True)
class Timing:
    """later: the input for how much later a picture's time is by the other clip's clock, s.

    events: frames of the instants that both cards name, this clip's first.
    """

    later: Quantity
    events: dict[str, tuple[int, int]]


def timing(one: Setting, other: Setting) -> Timing | None:
    """None where the two cards name no instant in common, or a clip has no times."""
    events = {name: (frame, other.events[name]) for name, frame in one.events.items() if name in other.events}
    if not events or not one.times or not other.times:
        return None
    name = min(events, key=lambda event: _u(event, events[event], one, other))
    mine, theirs = events[name]
    later = other.times[theirs] - one.times[mine]
    words = f"time between {one.clip} and {other.clip}, by {name}"
    u = _u(name, events[name], one, other)
    return Timing(Quantity(f"{one.clip}/with/{other.clip}/time", words, later, u, "s"), events)


def _u(name: str, frames: tuple[int, int], one: Setting, other: Setting) -> float:
    judged = 0.0 if name == "impact" else LOOSE if name in STANDING else JUDGED
    return math.hypot(
        judged, *(half_a_picture(s, f) / math.sqrt(3) for s, f in zip((one, other), frames, strict=True))
    )


def half_a_picture(setting: Setting, frame: int) -> float:
    """Half the wider gap to a neighbouring captured picture, s."""
    return max(_gaps(setting, frame), default=0.0) / 2


def _gaps(setting: Setting, frame: int) -> Iterator[float]:
    times = setting.times or ()
    for first in (frame - 1, frame):
        if 0 <= first < len(times) - 1:
            yield times[first + 1] - times[first]
