"""How near the proposed moments of a swing lie to the true ones, and how often within their ±.

Truth: setup, top, impact and finish are the studio's; `halfway` is the first picture with the lead wrist
level with the lead shoulder, `delivery` any with it below and the clubhead above the grip.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from lessonpress.footage.camera.difference import picture_changes
from lessonpress.footage.moments.film import ball_of
from lessonpress.footage.moments.finding import lowest_hands, moments
from lessonpress.footage.moments.heights import bodies, frames_looked_at, heights
from tests.suggesting.films import Filmed, Floats


@dataclass(frozen=True)
class Row:
    """off: pictures from the nearest true one. within: the ± in pictures. seconds: what off is in time."""

    film: str
    moment: str
    off: int
    within: int
    seconds: float


def found_in(film: Filmed) -> list[Row]:
    seconds = np.array(film.seconds)
    pictures = dict(film.pictures)
    greys = {frame: cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY) for frame, picture in pictures.items()}
    changes = picture_changes(greys.items())
    seen = bodies((frame, pictures[frame]) for frame in frames_looked_at(seconds))
    high = heights(seen, seconds)
    lows = lowest_hands(seconds, high)
    ball = (
        ball_of(seen, seconds, greys.items(), *lows[0])
        if len(lows) == 1 and film.name != HELD_IN_HAND
        else None
    )
    true = _true(film)
    return [
        _row(film.name, moment, at.frame, at.within, true[moment], seconds)
        for moment, at in moments(seconds, changes, high, ball).items()
        if moment in true
    ]


HELD_IN_HAND = "dune-in-the-hand"


def _row(film: str, moment: str, frame: int, within: int, true: range, seconds: Floats) -> Row:
    nearest = min(true, key=lambda one: abs(one - frame))
    return Row(film, moment, frame - nearest, within, float(seconds[frame] - seconds[nearest]))


def _true(film: Filmed) -> dict[str, range]:
    """The true pictures of each moment."""
    events = film.events
    true = {name: range(at, at + 1) for name, at in events.items() if name not in ("delivery", "halfway")}
    below = film.px["lead-wrist"][:, 1] > film.px["lead-shoulder"][:, 1]
    over = film.px["implement-head"][:, 1] < film.px["implement-grip"][:, 1]
    rising = [at for at in range(events["setup"], events["top"]) if not below[at]]
    late = [at for at in range(events["top"], events["impact"] + 1) if below[at] and over[at]]
    if rising:
        true["halfway"] = range(rising[0], rising[0] + 1)
    if late:
        true["delivery"] = range(late[0], late[-1] + 1)
    return true


def table(rows: Sequence[Row]) -> Iterator[str]:
    yield "| moment | films | middling off, pictures | furthest | furthest, s | within its ± | middling ± |"
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for moment in ("setup", "halfway", "top", "delivery", "impact", "finish"):
        own = [row for row in rows if row.moment == moment]
        if own:
            off = [abs(row.off) for row in own]
            held = sum(abs(row.off) <= row.within for row in own)
            yield (
                f"| {moment} | {len(own)} | {np.median(off):.0f} | {max(off)} | "
                f"{max(abs(row.seconds) for row in own):.2f} | {held} of {len(own)} | "
                f"{np.median([row.within for row in own]):.0f} |"
            )
