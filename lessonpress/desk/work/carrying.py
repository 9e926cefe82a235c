"""Marks carried over frames while the page watches: lines of JSON, one for each step and each mark."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lessonpress.desk.http.requests import Carry
from lessonpress.desk.http.responses import RequestError
from lessonpress.desk.views.clipview import roll_of
from lessonpress.desk.views.livesite import LiveSite
from lessonpress.desk.views.pictures import Roll
from lessonpress.desk.work.streaming import Watcher, watched
from lessonpress.footage import (
    FootageError,
    Guidance,
    Suggestion,
    Track,
    guidances,
    real_times,
    take_pictures,
    track_mark,
)
from lessonpress.intake import OpenedClip, club_of, frames_to_look_at, placed_by_hand, suggested_in

STEPS = 20  # of progress reported for a mark, at most


@dataclass(frozen=True)
class Carrying:
    """hand: by mark, its hand-placed places by frame. helped: marks that what is seen of the body helps to
    carry. looked_at: the frames in which it is looked for.
    """

    opened: OpenedClip
    roll: Roll
    helped: tuple[str, ...]
    looked_at: range
    hand: dict[str, dict[int, tuple[float, float]]]
    first: int
    last: int


def carrying_of(live: LiveSite, name: str, asked: Carry) -> Carrying:
    """What a request asks for. Raises RequestError where it cannot be done."""
    clip = live.clip(name)
    roll = roll_of(live, clip)
    first, last = asked.first, asked.last
    if not first <= last < len(roll.index):
        raise RequestError(400, f"frames {first} to {last} are no stretch of {name}")
    hand: dict[str, dict[int, tuple[float, float]]] = {}
    for mark in asked.marks:
        hand[mark] = placed_by_hand(clip, mark)
        if not any(first <= frame <= last for frame in hand[mark]):
            raise RequestError(
                422, f"`{mark[:80]}` is placed by hand on none of these frames", "place it on one first"
            )
    helped, frames = frames_to_look_at(clip, hand if live.site().suggested else (), first, last)
    return Carrying(OpenedClip(clip, roll.index, {}), roll, helped, frames, hand, first, last)


def carried(asked: Carrying) -> Iterator[bytes]:
    """The lines of the answer. A reader who stops reading stops the work."""
    return watched("carrying marks", lambda watcher: _work(asked, watcher))


def _work(asked: Carrying, watcher: Watcher) -> None:
    try:
        guidance = _seen_of_the_body(asked, watcher)
        club = club_of(asked.opened.clip, asked.opened.index)
        for mark in asked.hand:
            pictures = _watched(asked, mark, watcher)
            hand, seen = asked.hand[mark], guidance.get(mark)
            track = track_mark(pictures, mark, hand, asked.first, asked.last, seen, club)
            watcher.hears(**_track_json(mark, track))
        watcher.hears(done=True)
    except FootageError as error:
        watcher.hears(error={"reason": error.reason, "way_out": error.way_out})


def _seen_of_the_body(asked: Carrying, watcher: Watcher) -> dict[str, Guidance]:
    """What is suggested for the marks that it helps, with a line for each step through the pictures."""
    card = asked.opened.clip.card
    if not asked.helped or card is None:
        return {}

    def found() -> Iterator[Suggestion]:
        count = len(asked.looked_at)
        seen = suggested_in(asked.opened, asked.looked_at, asked.helped, by_hand_too=True)
        for number, one in enumerate(seen, 1):
            watcher.reads_on()
            watcher.hears(progress=number, of=count, mark="body")
            yield one

    seconds = real_times(asked.opened.index.times, card.filmed_at)
    return guidances(found(), card.view, asked.helped, seconds)


def _watched(asked: Carrying, mark: str, watcher: Watcher) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    """The pictures, with a line for each step through them."""
    roll, frames = asked.roll, range(asked.first, asked.last + 1)
    step = max(1, len(frames) // STEPS)
    pictures = take_pictures(roll.video, roll.index, frames, deinterlace=roll.deinterlace)
    for number, (frame, picture) in enumerate(pictures, 1):
        watcher.reads_on()
        if number % step == 0:
            watcher.hears(progress=number, of=len(frames), mark=mark)
        yield frame, picture


def _track_json(mark: str, track: Track) -> dict[str, Any]:
    rows = [
        [row.frame, round(row.x, 2), round(row.y, 2), max(0.001, round(row.u or 0.0, 3)), row.origin]
        for row in track.rows
    ]
    return {"mark": mark, "rows": rows, "gaps": [vars(gap) for gap in track.gaps]}
