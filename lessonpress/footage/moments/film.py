"""The moments of a clip's film: what changes, where the hands go, when the ball leaves, put together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.camera.difference import Change, picture_changes
from lessonpress.footage.moments.ball import last_with_ball
from lessonpress.footage.moments.finding import Moment, lowest_hands, moments
from lessonpress.footage.moments.heights import Seen, bodies, frames_looked_at, heights
from lessonpress.footage.pose.running import can_suggest
from lessonpress.footage.video.index import ClipIndex
from lessonpress.footage.video.pictures import take_greys, take_pictures
from lessonpress.records import View

Floats = NDArray[np.float64]

AFTERWARDS = 0.3  # s after the lowest hands in which the ball's place is looked at
ASIDE, BELOW, AS_LOW = 2.0, 0.3, 3.2  # trunks' lengths from the hips: where the ball may lie
LEAST_LONG = 20.0  # px of a trunk, for a ball to be seen


@dataclass(frozen=True)
class Film:
    """A clip's film. seconds: real ones of each picture. still: whether the camera stood still."""

    video: Path
    index: ClipIndex
    seconds: Floats
    view: View
    still: bool
    deinterlace: bool = False

    def intact(self) -> list[int]:
        return list(self.index.intact(deinterlace=self.deinterlace))

    def changes(self) -> list[Change]:
        """How much each picture differs from the one before. Raises FootageError."""
        return picture_changes(
            take_greys(self.video, self.index, self.intact(), deinterlace=self.deinterlace)
        )


@dataclass(frozen=True)
class Found:
    """moments: by name, in their order. why: why there are not more, "" where there is nothing to say."""

    moments: dict[str, Moment] = field(default_factory=dict)
    why: str = ""


NO_EXTRA = "without the extra that sees bodies, only how much changes is known"
NO_BODY = "no body is seen in it, so only how much changes is known"
NO_SWING = "the hands do not come down from over the shoulders and go up again"
MANY = "{count} swings are seen, and nothing says which is meant"


def film_moments(film: Film, changes: list[Change]) -> Found:
    """The moments of the swing in a film. Raises FootageError for a bad video."""
    if not can_suggest() or film.view == "overhead":
        return Found(moments(film.seconds, changes, None), NO_EXTRA if not can_suggest() else NO_BODY)
    wanted = sorted(set(frames_looked_at(film.seconds)) & set(film.intact()))
    pictures = take_pictures(film.video, film.index, wanted, deinterlace=film.deinterlace)
    seen = bodies(pictures)
    high = heights(seen, film.seconds)
    if not np.isfinite(high).any():
        return Found(moments(film.seconds, changes, None), NO_BODY)
    lows = lowest_hands(film.seconds, high)
    if len(lows) != 1:
        return Found(why=MANY.format(count=len(lows)) if lows else NO_SWING)
    ball = ball_of(seen, film.seconds, _greys(film, *lows[0]), *lows[0]) if film.still else None
    return Found(moments(film.seconds, changes, high, ball))


def _greys(film: Film, top: int, low: int) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    last = int(np.searchsorted(film.seconds, film.seconds[low] + AFTERWARDS))
    frames = [frame for frame in film.intact() if top <= frame < last]
    return take_greys(film.video, film.index, frames, deinterlace=film.deinterlace)


def ball_of(
    seen: Mapping[int, Seen],
    seconds: Floats,
    pictures: Iterable[tuple[int, NDArray[np.uint8]]],
    top: int,
    low: int,
) -> int | None:
    """The last picture with the ball at its place. top, low: with hands over the shoulders, and lowest.

    pictures: (frame, grey) ascending; those from the top to AFTERWARDS are looked at.
    """
    body = seen[min(seen, key=lambda frame: abs(frame - top))]
    hips, trunk = body.hips, float(np.linalg.norm(body.shoulders - body.hips))
    frames, cuts = [], []
    for frame, picture in pictures:
        if top <= frame and seconds[frame] < seconds[low] + AFTERWARDS:
            height, width = picture.shape
            left, right = (int(np.clip(hips[0] + side * ASIDE * trunk, 0, width)) for side in (-1, 1))
            upper, lower = (int(np.clip(hips[1] + share * trunk, 0, height)) for share in (BELOW, AS_LOW))
            frames.append(frame)
            cuts.append(picture[upper:lower, left:right])
    if trunk < LEAST_LONG or low not in frames or not cuts[0].size:
        return None
    found = last_with_ball(np.stack(cuts), frames.index(low), trunk)
    return None if found is None else frames[found]
