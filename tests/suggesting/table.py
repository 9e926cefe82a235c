"""How far suggested marks may be believed: on each film, what share is given, how far off it is, and by its
own u.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from lessonpress.footage import suggested_errors
from lessonpress.footage.pose.bodymarks import SUGGESTED, part_of
from lessonpress.footage.pose.suggesting import suggest_marks
from lessonpress.records import Observation
from tests.suggesting.films import Filmed


@dataclass(frozen=True)
class Found:
    """A suggested mark and where it truly is. axes: times its u for that across and down."""

    seen: Observation
    true: tuple[float, float]
    axes: tuple[float, float]

    @property
    def off(self) -> tuple[float, float]:
        return self.seen.x - self.true[0], self.seen.y - self.true[1]


@dataclass(frozen=True)
class Tried:
    """A film with all that was suggested on it. pictures: how many it has."""

    name: str
    pictures: int
    found: tuple[Found, ...]


def tried(film: Filmed) -> Tried:
    found: list[Found] = []
    pictures = 0
    errors = suggested_errors(film.view)
    assert errors is not None
    for suggestion in suggest_marks(film.pictures, film.view, film.hand, SUGGESTED):
        pictures += 1
        for seen in suggestion.rows:
            x, y = film.px[seen.mark][suggestion.frame]
            found.append(Found(seen, (float(x), float(y)), errors.axes[seen.mark]))
    return Tried(film.name, pictures, tuple(found))


def rows(films: Sequence[Tried]) -> Iterator[str]:
    """The table by mark, all films together, then the table by film."""
    yield "| mark | given | median error, px | median u, px | within 2 u | beyond 3 u | furthest, u |"
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for part in dict.fromkeys(part_of(mark) for mark in SUGGESTED):
        marks = [mark for mark in SUGGESTED if part_of(mark) == part]
        found = [one for film in films for one in film.found if one.seen.mark in marks]
        yield _row(part, found, len(marks) * sum(film.pictures for film in films))
    yield ""
    yield "| film | given | median error, px | median u, px | within 2 u | beyond 3 u | furthest, u |"
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for film in films:
        yield _row(film.name, film.found, len(SUGGESTED) * film.pictures)


def _row(name: str, found: Sequence[Found], asked: int) -> str:
    if not found:
        return f"| {name} | 0 % | | | | | |"
    off = np.array([one.off for one in found])
    u = np.array([one.seen.u or 0.0 for one in found])
    ratio = np.abs(off) / (u[:, None] * np.array([one.axes for one in found]))
    cells = (
        f"{100 * len(found) / asked:.0f} %",
        f"{np.median(np.hypot(*off.T)):.1f}",
        f"{np.median(u):.1f}",
        f"{100 * (ratio <= 2).mean():.1f} %",
        f"{100 * (ratio > 3).mean():.1f} %",
        f"{ratio.max():.1f}",
    )
    return f"| {name} | {' | '.join(cells)} |"
