"""How high the hands are over the hips, picture by picture, as a network sees them.

One look at each picture, the square following the body, where `pose.looks` takes six: a moment needs the
hands' way and not their place. So it costs some 0.03 s of one processor a picture.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.looks import around, look
from lessonpress.footage.pose.person import SURE, person_in
from lessonpress.footage.pose.square import Square
from lessonpress.footage.pose.suggesting import THERE

SHOULDERS, HIPS, HANDS = (11, 12), (23, 24), (15, 16, 19, 20)
RATE = 60.0  # looks a real second at the most: hands go from shoulders to hips in some ten of them
GAP = 0.2  # s between two looks, beyond which nothing is known of what lies between

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Seen:
    """hands, hips, shoulders: (x, y) px of the middles."""

    hands: Floats
    hips: Floats
    shoulders: Floats


def bodies(pictures: Iterable[tuple[int, NDArray[np.uint8]]]) -> dict[int, Seen]:
    """By frame what is seen of the body, for the pictures (frame, RGB) that show one."""
    seen: dict[int, Seen] = {}
    square: Square | None = None
    for frame, picture in pictures:
        if square is None:
            person = person_in(picture)
            if person.sure < SURE:
                continue
            square = around(look(picture, person.square)[0], person.square)
        points, sure = look(picture, square)
        if sure < THERE:
            square = None
            continue
        seen[frame] = Seen(*(points[list(which), :2].mean(axis=0) for which in (HANDS, HIPS, SHOULDERS)))
        square = around(points, square)
    return seen


def heights(seen: Mapping[int, Seen], seconds: Floats) -> Floats:
    """(n,): the hands' height over the hips in every picture, 1 at the shoulders'; straight between those
    seen, nan where none is near. seconds: real ones of each picture.
    """
    frames = np.array(sorted(seen))
    if len(frames) < 2:
        return np.full(len(seconds), np.nan)
    torso = float(np.median([np.linalg.norm(seen[at].shoulders - seen[at].hips) for at in frames]))
    high = np.array([seen[at].hips[1] - seen[at].hands[1] for at in frames]) / max(torso, 1.0)
    at = seconds[frames]
    known = np.interp(seconds, at, high, left=np.nan, right=np.nan)
    later = np.clip(np.searchsorted(at, seconds), 1, len(at) - 1)
    lost = (at[later] - at[later - 1] > GAP) & ~np.isin(seconds, at)
    return np.asarray(np.where(lost, np.nan, known))


def frames_looked_at(seconds: Floats) -> list[int]:
    """Pictures to look at, RATE a second at the most."""
    chosen, last = [], -np.inf
    for frame, at in enumerate(seconds):
        if at - last >= 0.99 / RATE:
            chosen.append(frame)
            last = float(at)
    return chosen
