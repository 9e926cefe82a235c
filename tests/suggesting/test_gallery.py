"""Golfers of the gallery are bodies that can swing so, each another, and the same each time."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.studio.body import marks_at
from tests.suggesting.gallery import REACHED, golfer

NUMBERS = (1, 9, 105)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_golfer_swings_within_reach_and_hits_the_ball(number: int) -> None:
    body = golfer(number).swinger
    assert max(body.motion.pose(t).strain for t in np.linspace(0, body.duration, 60)) <= REACHED + 0.005
    for event in ("setup", "impact"):
        marks = marks_at(body, body.events[event])
        assert np.linalg.norm(marks["ball"] - marks["implement-head"]) < 0.04


@pytest.mark.parametrize("number", NUMBERS)
def test_a_golfer_is_wholly_in_the_picture_at_setup(number: int) -> None:
    one = golfer(number)
    width, height = one.camera.size
    marks = marks_at(one.swinger, one.swinger.events["setup"])
    for mark in ("crown", "lead-toe", "trail-heel", "lead-shoulder"):
        x, y = one.camera.project(marks[mark] * ((1 if one.swinger.hand == "right" else -1), 1, 1))
        assert 0 < x < width and 0 < y < height


def test_a_number_is_a_golfer_and_another_one_another() -> None:
    first, again, other = golfer(1), golfer(1), golfer(2)
    assert replace(first.swinger, name="") == replace(again.swinger, name="")
    assert (first.clothes, first.camera, first.noise) == (again.clothes, again.camera, again.noise)
    assert first.swinger.keys != other.swinger.keys and first.clothes != other.clothes
