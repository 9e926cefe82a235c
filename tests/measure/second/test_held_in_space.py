"""A clubhead's path and speed in space and a plan's ellipses hold the studio's joints as often as they say.

A few bodies of what `tests/bench/in_space.py` tries at length.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.bench.in_space import LONG, MOTIONS, PLANNED, Tally, count_motions, count_spots, films
from tests.bench.second_view import LANDSCAPE, OTHER
from tests.chain.chance import tries

STREAM = 83
Tallies = dict[str, Tally]


@pytest.fixture(scope="module")
def counted() -> tuple[Tallies, Tallies]:
    """Of motions, and of spots by kind, from both sides."""
    motions: Tallies = {}
    spots: Tallies = {}
    for view in OTHER:
        for seed in tries(4):
            clip, second = films(seed, view, STREAM, LANDSCAPE)
            survey = clip.survey(second)
            count_motions(clip, survey, motions, (name for name in MOTIONS if name != LONG))
            count_spots(clip, survey, spots)
    return motions, spots


def enough(held: list[bool]) -> bool:
    """At least 92 %, less two standard deviations of a share of so many (binomial)."""
    return bool(np.mean(held) >= 0.92 - 2 * math.sqrt(0.92 * 0.08 / len(held)))


def test_paths_and_speeds_of_a_clubhead_lie_inside(counted: tuple[Tallies, Tallies]) -> None:
    motions, _ = counted
    held = [one for tally in motions.values() for one in tally.held]
    assert len(held) >= 5 * len(tries(4))
    assert enough(held), {name: tally.held for name, tally in motions.items()}


@pytest.mark.parametrize("kind", PLANNED)
def test_ellipses_hold_their_marks(counted: tuple[Tallies, Tallies], kind: str) -> None:
    """Those of one body share much, so that of few bodies a share is held to half as many."""
    _, spots = counted
    tally = spots[kind]
    assert len(tally.held) >= 4 * len(tries(4))
    alike = tally.held[::2]
    assert np.mean(tally.held) >= 0.92 - 2 * math.sqrt(0.92 * 0.08 / len(alike)), tally.held
