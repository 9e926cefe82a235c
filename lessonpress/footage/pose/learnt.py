"""What was learnt of the network's errors on film with known truth: `learnt.json`, read.

`python -m tests.suggesting --learn` writes it and says on which films. A mark's u is a part that it always
has and a part of what the looks differ by, both in proportion to the square around the golfer, and each axis
has its share of it.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from lessonpress.footage.pose.bodymarks import SUGGESTED, part_of
from lessonpress.footage.pose.sides import ACROSS
from lessonpress.records import SuggestedErrors, View

FILE = Path(__file__).parent / "learnt.json"


@dataclass(frozen=True)
class LearntMark:
    """by: what moves it, see `bodymarks`. least: u at the least, of the square's side. spread: times the
    looks' own. axes: times u for the standard uncertainty across and down; the mean of their squares is 1.
    """

    by: tuple[float, ...]
    least: float
    spread: float
    axes: tuple[float, float]

    def u(self, spread: float, side: float) -> float:
        """Standard uncertainty, px, root mean square of the two axes. spread: of the looks, px per axis.
        side: of the square, px.
        """
        return math.hypot(self.least * side, self.spread * spread)


@dataclass(frozen=True)
class LearntPath:
    """Of a mark carried between clicks by what is suggested. size: by how much its error changes as posture
    and time do, standard deviation, of the square's side.
    """

    size: float


@dataclass(frozen=True)
class Learnt:
    """marks, paths: by part of the body. longest: of the square's side, what lies between two marks at the
    most.
    """

    marks: dict[str, LearntMark]
    paths: dict[str, LearntPath]
    longest: dict[tuple[str, str], float]

    def of(self, mark: str) -> LearntMark:
        return self.marks[part_of(mark)]


@cache
def learnt_for(view: View) -> Learnt | None:
    """What is known of film from this view; None where nothing is."""
    told = _told()
    way = way_of(view)
    if way is None:
        return None
    marks = {
        part: LearntMark(tuple(found["by"]), found["least"], found["spread"], _pair(found["axes"]))
        for part, found in told[way]["marks"].items()
    }
    longest = {(one, other): length for one, other, length in told[way]["longest"]}
    paths = {part: LearntPath(found["size"]) for part, found in told[way]["paths"].items()}
    return Learnt(marks, paths, longest)


@cache
def suggested_errors(view: View) -> SuggestedErrors | None:
    """How errors of suggested places go together on film from this view; None where nothing is known."""
    way = way_of(view)
    if way is None:
        return None
    told = _told()
    pairs = {part: _pair(both) for part, both in told[way]["pairs"].items()}
    neck = {mark: _pair(both) for mark, both in told[way]["neck"].items()}
    parts = told[way]["marks"]
    axes = {mark: _pair(parts[part_of(mark)]["axes"]) for mark in SUGGESTED if part_of(mark) in parts}
    return SuggestedErrors(told["lasts"], told["own"], axes, pairs, neck)


def _pair(both: list[float]) -> tuple[float, float]:
    across, down = both
    return across, down


def _told() -> dict[str, Any]:
    told: dict[str, Any] = json.loads(FILE.read_text(encoding="utf-8"))
    return told


def way_of(view: View) -> str | None:
    """Which films a view was learnt with: across the target line, or along it."""
    if view == "overhead":
        return None
    return "across" if view in ACROSS else "along"
