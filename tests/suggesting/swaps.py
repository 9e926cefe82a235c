"""How many limbs that change places are noticed: sides are exchanged at random in what was suggested."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lessonpress.footage.pose.bodymarks import SUGGESTED
from lessonpress.footage.pose.runs import SWAPPED, without_swaps
from lessonpress.footage.pose.suggesting import Suggestion, suggest_marks
from tests.suggesting.films import Filmed

PARTS = ("ankle", "knee", "hip", "shoulder", "elbow", "wrist")
TIMES = 6  # exchanges of each part in each film
FEWEST = 20  # pictures with both sides


@dataclass(frozen=True)
class Row:
    """run: pictures in a row in which sides were exchanged. noticed: in how many of them."""

    part: str
    run: int
    noticed: int


def suggested_in(film: Filmed) -> list[Suggestion]:
    return list(suggest_marks(film.pictures, film.view, film.hand, SUGGESTED))


def rows(films: Sequence[Sequence[Suggestion]]) -> Iterator[Row]:
    chance = np.random.default_rng(5)
    for run in (1, 2, 3):
        for found in films:
            for part in PARTS:
                pair = {f"lead-{part}", f"trail-{part}"}
                frames = [one.frame for one in found if pair <= {row.mark for row in one.rows}]
                if len(frames) >= FEWEST:
                    for at in chance.choice(len(frames) - run - 6, TIMES, replace=False) + 3:
                        yield _tried(found, part, frames[at : at + run])


def _tried(found: Sequence[Suggestion], part: str, frames: Sequence[int]) -> Row:
    made = without_swaps(_exchanged(one, part) if one.frame in frames else one for one in found)
    why = {one.frame: one.missing.get(f"lead-{part}") for one in made}
    return Row(part, len(frames), sum(why[frame] == SWAPPED for frame in frames))


def _exchanged(one: Suggestion, part: str) -> Suggestion:
    other = {f"lead-{part}": f"trail-{part}", f"trail-{part}": f"lead-{part}"}
    return replace(one, rows=tuple(replace(row, mark=other.get(row.mark, row.mark)) for row in one.rows))


def table(films: Sequence[Sequence[Suggestion]]) -> Iterator[str]:
    every = list(rows(films))
    yield "| limb | one picture | two in a row | three in a row |"
    yield "| --- | --- | --- | --- |"
    for part in PARTS:
        cells = []
        for run in (1, 2, 3):
            own = [row for row in every if (row.part, row.run) == (part, run)]
            cells.append(f"{sum(row.noticed for row in own)} of {run * len(own)}")
        yield f"| {part} | {' | '.join(cells)} |"
    lost = sum(
        len(before.rows) - len(after.rows)
        for found in films
        for before, after in zip(found, without_swaps(found), strict=True)
    )
    yield f"\nOf {sum(len(one.rows) for found in films for one in found)} marks as suggested {lost} are lost."
