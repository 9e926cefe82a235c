"""A scene is made in one direction: no number depends on what was measured before it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import FrozenInstanceError

import numpy as np
import pytest

from lessonpress.measure import At, Measured, Refusal, Setting, Survey
from lessonpress.records.mark import Observation
from tests.measure.clips import Clip, InTheHand, OnACircle, OnTheWall, SeveralScales, Turning, TwoPlumbLines

Ask = Callable[[Survey], Measured | Refusal]
ASKED: tuple[Ask, ...] = (
    lambda survey: survey.tilt(At("navel", 0), At("c7", 0)),
    lambda survey: survey.shift(At("navel", 0), At("navel", 9)),
    lambda survey: survey.distance(At("lead-hip", 0), At("lead-ankle", 0)),
    lambda survey: survey.turn(
        (At("trail-hip", 0), At("lead-hip", 0)), (At("trail-hip", 9), At("lead-hip", 9))
    ),
    lambda survey: survey.speed(At("lead-wrist", 12)),
    lambda survey: survey.path("lead-wrist", 0, 23),
    lambda survey: survey.circle("lead-wrist", 0, 23),
    lambda survey: survey.balance(0),
    lambda survey: survey.tempo(0, 12, 20),
)


@pytest.mark.parametrize(
    "kind", [Clip, TwoPlumbLines, OnTheWall, SeveralScales, InTheHand, OnACircle, Turning]
)
def test_a_number_is_the_same_whatever_was_measured_before(kind: type[Clip]) -> None:
    """Asked forward of one survey and backward of another, every number and refusal is equal, budgets too."""
    setting, seen = _filmed(kind)
    forward, backward = Survey(setting, seen), Survey(setting, seen)
    assumed = forward.assumptions
    first = [ask(forward) for ask in ASKED]
    second = [ask(backward) for ask in reversed(ASKED)][::-1]
    assert first == second
    assert any(isinstance(one, Measured) for one in first)
    assert forward.assumptions == assumed


def test_optics_and_camera_cannot_be_changed_once_they_are_made() -> None:
    scene = Survey(*_filmed(SeveralScales)).scene
    for part, name in (
        (scene.optics, "from_lines"),
        (scene.camera, "solver"),
        (scene.camera.solver, "scales"),
        (scene.camera.solver.scales[0], "misfit"),
        (scene.depths.stature, "u"),
    ):
        with pytest.raises(FrozenInstanceError):
            setattr(part, name, None)


def _filmed(kind: type[Clip]) -> tuple[Setting, list[Observation]]:
    clip = kind(np.random.default_rng(4))
    return clip.setting(), clip.room.sighted()
