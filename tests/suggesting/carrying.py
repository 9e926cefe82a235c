"""Over how many pictures between clicks at the events marks are carried, by pixels alone and with what is
seen of the body as well, and whether u holds.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from lessonpress.footage.pose.bodymarks import SUGGESTED, part_of
from lessonpress.footage.pose.suggesting import suggest_marks
from lessonpress.footage.tracking.guided import Guidance, guidances, guided_marks
from lessonpress.footage.tracking.tracking import track_mark
from tests.suggesting.films import CLICK, Filmed, Picture

PIXELS, BOTH = "pixels alone", "with the body"


@dataclass(frozen=True)
class Row:
    """A place that was given. off: px from the truth, x and y. u: px."""

    part: str
    off: tuple[float, float]
    u: float


@dataclass(frozen=True)
class Carried:
    """What became of a film. asked: places between clicks, by part. rows: by way of carrying."""

    asked: Mapping[str, int]
    rows: Mapping[str, tuple[Row, ...]]


def carried(film: Filmed) -> Carried:
    """Every body mark carried between clicks at all events, the clicks off by CLICK (seeded)."""
    pictures = list(film.pictures)
    first, last = film.clicked[0], film.clicked[-1]
    marks = guided_marks(film.view, dict.fromkeys(SUGGESTED, film.clicked))
    shown = [(frame, picture) for frame, picture in pictures if first <= frame <= last]
    seen = guidances(suggest_marks(shown, film.view, film.hand, marks), film.view, marks, film.seconds)
    chance = np.random.default_rng(2)
    rows: dict[str, list[Row]] = {PIXELS: [], BOTH: []}
    asked: dict[str, int] = {}
    for mark in marks:
        hand = {frame: _clicked(film, mark, frame, chance) for frame in film.clicked}
        asked[part_of(mark)] = asked.get(part_of(mark), 0) + last - first + 1 - len(hand)
        for way, guidance in ((PIXELS, None), (BOTH, seen[mark])):
            rows[way].extend(_rows(film, shown, mark, hand, guidance))
    return Carried(asked, {way: tuple(found) for way, found in rows.items()})


def _clicked(film: Filmed, mark: str, frame: int, chance: np.random.Generator) -> tuple[float, float]:
    x, y = film.px[mark][frame] + chance.normal(0, CLICK, 2)
    return float(x), float(y)


def _rows(
    film: Filmed,
    shown: Sequence[tuple[int, Picture]],
    mark: str,
    hand: Mapping[int, tuple[float, float]],
    guidance: Guidance | None,
) -> Iterator[Row]:
    for row in track_mark(shown, mark, hand, min(hand), max(hand), guidance).rows:
        x, y = film.px[mark][row.frame]
        yield Row(part_of(mark), (row.x - float(x), row.y - float(y)), float(np.hypot(row.u or 0.0, CLICK)))


def table(films: Sequence[Carried]) -> Iterator[str]:
    """By mark, all films together: by pixels alone, then with what is seen of the body."""
    yield "| mark | pixels alone | within 2 u | with the body | within 2 u | furthest, u | median u, px |"
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for part in dict.fromkeys(part for film in films for part in film.asked):
        asked = sum(film.asked[part] for film in films)
        alone, both = (
            [row for film in films for row in film.rows[way] if row.part == part] for way in (PIXELS, BOTH)
        )
        cells = (
            f"{100 * len(alone) / asked:.0f} %",
            _within(alone),
            f"{100 * len(both) / asked:.0f} %",
            _within(both),
            f"{_ratios(both).max():.1f}" if both else "",
            f"{np.median([row.u for row in both]):.1f}" if both else "",
        )
        yield f"| {part} | {' | '.join(cells)} |"


def _ratios(rows: Sequence[Row]) -> np.ndarray:
    return np.abs([np.divide(row.off, row.u) for row in rows])


def _within(rows: Sequence[Row]) -> str:
    return f"{100 * (_ratios(rows) <= 2).mean():.1f} %" if rows else ""
