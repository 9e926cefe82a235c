"""A film with truth gone through with the network once, for all that is learnt of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.bodymarks import SINGLE, SUGGESTED, Design, design, part_of
from lessonpress.footage.pose.looks import looks_at
from lessonpress.footage.pose.person import SURE, person_in
from lessonpress.footage.pose.sides import sided
from lessonpress.footage.pose.suggesting import THERE
from lessonpress.records import Hand, View
from tests.suggesting.films import Filmed

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Studied:
    """A film as the network sees it, pictures without a body left out.

    points: (n, looks, 33, 3), the lead side first. clear: (n,), whether it is known which that is. side:
    (n,), px. px: each mark's true place, (n, 2). frames: the n pictures' numbers. clicked: frames of events.
    seconds: the real time of each picture of the film. rendered: whether it is one of the demo's.
    """

    name: str
    golfer: str
    view: View
    hand: Hand
    points: Floats
    clear: NDArray[np.bool_]
    side: Floats
    px: dict[str, Floats]
    frames: tuple[int, ...]
    clicked: tuple[int, ...]
    seconds: tuple[float, ...]
    rendered: bool

    @cached_property
    def designs(self) -> Mapping[str, Design]:
        """What each mark is found from in every look, pictures times looks."""
        flat = self.points.reshape(-1, *self.points.shape[2:])
        return {mark: design(flat, self.hand, mark) for mark in SUGGESTED}

    def suggests(self, mark: str) -> NDArray[np.bool_]:
        """(n,): whether a mark with a side can be suggested, or none is asked for."""
        return self.clear | (part_of(mark) in SINGLE)

    def moved(self, mark: str, by: Sequence[float] | Floats) -> Floats:
        """(n, looks, 2): where the looks of each picture have a mark, px."""
        return self.designs[mark].moved(by).reshape(*self.points.shape[:2], 2)


def studied(film: Filmed) -> Studied:
    """The film gone through with the network."""
    points, clear, sides, frames = [], [], [], []
    for frame, picture in film.pictures:
        person = person_in(picture)
        if person.sure < SURE:
            continue
        looks = looks_at(picture, person.square)
        if looks.presence.min() < THERE:
            continue
        told = sided(looks.points, looks.side, film.view, film.hand)
        points.append(told.points)
        clear.append(told.clear)
        sides.append(looks.side)
        frames.append(frame)
    px = {mark: film.px[mark][frames] for mark in SUGGESTED}
    return Studied(
        film.name,
        film.golfer,
        film.view,
        film.hand,
        np.array(points),
        np.array(clear),
        np.array(sides),
        px,
        tuple(frames),
        film.clicked,
        film.seconds,
        rendered=film.rendered,
    )
