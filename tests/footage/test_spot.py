"""The clubhead as a spot: its middle beside the shaft is found, and nothing where the shaft merely ends.

What is drawn is a stick with a bar across its end, so that its middle is known.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from lessonpress.footage.tracking.club.clock import clock_of
from lessonpress.footage.tracking.club.ends import Room, Spots, club_at
from lessonpress.footage.tracking.club.shafts import Shaft
from lessonpress.footage.tracking.club.spot import softened, spot_at
from tests.footage.drawn import Floats

END, WAY = np.array([100.0, 60.0]), np.array([0.0, 1.0])
NOISE = 1.0
NOBODY = np.zeros((140, 200), np.uint8)


def moved(*, head: bool, aside: float = 0.0) -> Floats:
    """Grey levels by which a dark stick, px 99 to 101 across, differs from the room; with or without a head
    of 20 × 12 px before its end, so far beside it.
    """
    levels = np.random.default_rng(2).normal(0, NOISE, NOBODY.shape)
    levels[5:60, 99:102] = -60
    if head:
        levels[48:60, int(90 + aside) : int(110 + aside)] = -60
    return levels.astype(np.float32)


@pytest.mark.parametrize("aside", [-6.0, 0.0, 6.0])
def test_its_middle_is_found_beside_the_shaft(aside: float) -> None:
    spot = spot_at(END, WAY, 1.5, softened(moved(head=True, aside=aside)), NOBODY, NOISE)
    assert spot is not None
    assert spot.middle == pytest.approx([100 + aside, 54], abs=1.0)
    assert spot.area == pytest.approx(20 * 12, rel=0.25)


def test_a_shaft_that_merely_ends_has_none() -> None:
    assert spot_at(END, WAY, 1.5, softened(moved(head=False)), NOBODY, NOISE) is None


def test_before_the_golfer_there_is_none() -> None:
    assert spot_at(END, WAY, 1.5, softened(moved(head=True)), np.ones_like(NOBODY), NOISE) is None


def test_what_goes_on_out_of_what_is_looked_at_is_no_head() -> None:
    levels = moved(head=True)
    levels[48:60] = -60
    assert spot_at(END, WAY, 1.5, softened(levels), NOBODY, NOISE) is None


def test_without_a_spot_the_head_lies_before_the_end_of_its_stripe() -> None:
    shaft = Shaft(END, WAY, 90.0, 80.0, 0.1, 0.001, 1.5, 1.0, 80.0, cut=False)
    room = Room(
        300.0, 4.0, 1.0, 1.0, Spots(3.0, 0.0, math.inf), clock_of((5, 6), [frame / 60 for frame in range(7)])
    )
    seen = club_at(5, shaft, np.array([6.0, 2.0]), room)
    assert seen.head == pytest.approx([102, 54]) and not seen.spotted
