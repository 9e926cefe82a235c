"""Over how many pictures between clicks the clubhead is carried, and whether u holds.

All that was chosen was chosen on films of Dune; these are of Shingle. The quick renderer's films have noise
and the blur of an open shutter, the mean of as many moments as keep the head's pictures 2 px apart.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import cv2
import numpy as np

from lessonpress.footage.tracking.club.known import Club
from lessonpress.footage.tracking.tracking import track_mark
from lessonpress.records import Observation
from lessonpress.records.view import View
from tests.studio.body import Swinger
from tests.studio.camera import Camera, Sway
from tests.studio.clip import STUDIO_CAMERA, frame_times, seen
from tests.studio.draw import film_of
from tests.studio.swingers import SHINGLE, practised
from tests.suggesting.films import ASKEW, CLICK, Filmed, of_swinger, rendered

IN_THE_HAND = replace(STUDIO_CAMERA, sway=Sway())
HEAD, GRIP = "implement-head", "implement-grip"
BETWEEN = 2.0  # px that the head goes from moment to moment of an exposure, at the most


@dataclass(frozen=True)
class Tried:
    """A film with its clicks. shown: pictures between them that show the head. rows: where it was carried."""

    name: str
    clicks: int
    shown: int
    rows: tuple[Observation, ...]
    off: np.ndarray  # (n, 2) px, of `rows`


def shot(
    name: str,
    swinger: Swinger,
    view: View,
    rate: int,
    shutter: float,
    noise: float,
    camera: Camera = STUDIO_CAMERA,
) -> Filmed:
    """A film by the quick renderer, of so many pictures a second."""
    times = frame_times(swinger.duration, rate)
    still = film_of(swinger, camera, view)
    smears = seen(still, times + shutter / 2)[HEAD] - seen(still, times - shutter / 2)[HEAD]
    moments = max(1, int(np.ceil(np.linalg.norm(smears, axis=1).max() / BETWEEN)))
    film = replace(still, shutter=shutter, moments=moments, noise=noise)
    return of_swinger(name, swinger, view, film, times)


FILMS: tuple[Callable[[], Filmed], ...] = (
    partial(rendered, "shingle-face-on", "face-on", "left"),
    partial(rendered, "shingle-outdoors", "face-on", "left"),
    partial(shot, "drawn, 60 a second", SHINGLE, "face-on", 60, 1 / 500, 3.0),
    partial(
        shot, "drawn, 60 a second, askew, much noise", practised(0.5), "face-on", 60, 1 / 250, 6.0, ASKEW
    ),
    partial(shot, "drawn, 60 a second, from behind", SHINGLE, "from-behind", 60, 1 / 500, 3.0),
    partial(shot, "drawn, 60 a second, down the line", SHINGLE, "down-the-line", 60, 1 / 500, 3.0),
    partial(shot, "drawn, 240 a second", SHINGLE, "face-on", 240, 1 / 1000, 4.0),
    partial(shot, "drawn, 240 a second, down the line", SHINGLE, "down-the-line", 240, 1 / 1000, 4.0),
    partial(shot, "drawn, 60 a second, in the hand", SHINGLE, "face-on", 60, 1 / 500, 3.0, IN_THE_HAND),
)


def tried(film: Filmed) -> Iterator[Tried]:
    """With clicks at all events that show the head, and at the first two."""
    greys = [(frame, cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY)) for frame, picture in film.pictures]
    height, width = greys[0][1].shape
    x, y = film.px[HEAD].T
    inside = (x > 0) & (x < width) & (y > 0) & (y < height)
    events = [frame for frame in film.clicked if inside[frame]]
    for frames in (events, events[:2]):
        chance = np.random.default_rng(2)
        hand, grips = (
            {frame: _clicked(film, mark, frame, chance) for frame in frames} for mark in (HEAD, GRIP)
        )
        first, last = frames[0], frames[-1]
        pictures = greys[first : last + 1]
        rows = track_mark(pictures, HEAD, hand, first, last, None, Club(grips, film.view, film.seconds)).rows
        off = np.array([np.subtract((row.x, row.y), film.px[HEAD][row.frame]) for row in rows])
        shown = int(inside[first : last + 1].sum()) - len(frames)
        yield Tried(film.name, len(frames), shown, rows, off.reshape(-1, 2))


def _clicked(film: Filmed, mark: str, frame: int, chance: np.random.Generator) -> tuple[float, float]:
    x, y = film.px[mark][frame] + chance.normal(0, CLICK, 2)
    return float(x), float(y)


def table(films: Sequence[Callable[[], Filmed]] = FILMS) -> Iterator[str]:
    yield ("| film | clicks | carried | within 2 u | furthest, u | median u, px | median error, px |")
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for film in films:
        for one in tried(film()):
            u = np.array([np.hypot(row.u or 0.0, CLICK) for row in one.rows])
            ratios = np.abs(one.off) / u[:, None]
            held = (
                (
                    f"{100 * (ratios <= 2).mean():.1f} %",
                    f"{ratios.max():.1f}",
                    f"{np.median(u):.1f}",
                    f"{np.median(np.hypot(*one.off.T)):.1f}",
                )
                if len(u)
                else ("", "", "", "")
            )
            cells = (
                str(one.clicks),
                f"{100 * len(one.rows) / one.shown:.0f} %",
                *held,
            )
            yield f"| {one.name} | {' | '.join(cells)} |"
