"""A camera in the hand that came nearer: lengths of one picture by a scale that was placed on another."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure import At, Camera, Depth, Measured, Survey
from lessonpress.measure.camera.sway import SWAY
from tests.measure.clips import DISTANCE, WALL, Clip, InTheHand

LENGTH = 0.5  # m, drawn in the subject plane


class ScaleOnAnother(InTheHand):
    """The stick is placed on frame 9, a length in the subject plane on frames 0 and 9."""

    def put_stick(self) -> None:
        for frame in (0, 9):
            self.room.put("rod-left", frame, -0.3, 0.1)
            self.room.put("rod-right", frame, -0.3 + LENGTH, 0.1)
        length = 0.9144
        self.room.put("stick-foot", 9, 0.7, -1.0)
        self.room.put("stick-top", 9, 0.7, -1.0 + length)

    def put_golfer(self) -> None:
        pass

    def setting(self):  # type: ignore[no-untyped-def]
        flat = {"rod-left": Depth(0.0, 0.0), "rod-right": Depth(0.0, 0.0)}
        return replace(super().setting(), depth=flat)


def clip(seed: int = 5, click_u: float = 1.5) -> ScaleOnAnother:
    made = ScaleOnAnother(np.random.default_rng(seed))
    made.room.click_u = click_u
    return made


def length(made: Clip, frame: int, **camera: object) -> Measured:
    setting = made.setting()
    if camera:
        setting = replace(setting, camera=Camera(**camera))  # type: ignore[arg-type]
    found = Survey(setting, made.room.sighted()).distance(At("rod-left", frame), At("rod-right", frame))
    assert isinstance(found, Measured), str(found)
    return found


def swayed(found: Measured) -> float:
    """What the camera's coming and going brings, as a fraction of the length (standard uncertainty)."""
    parts = [share.share for share in found.budget.shares if "to and fro" in share.words]
    return math.sqrt(sum(parts)) * found.u / found.value


def test_a_scale_of_another_picture_is_as_unsure_as_the_camera_s_coming_nearer() -> None:
    """Within 5 cm, by similar triangles: (1/D − 1/W) of it, rectangular, as a fraction of the length."""
    expected = SWAY / math.sqrt(3) * (1 / DISTANCE - 1 / WALL)
    assert swayed(length(clip(), 0)) == pytest.approx(expected, rel=0.05)


def test_a_scale_of_the_same_picture_is_not() -> None:
    """Whatever the camera did, it did it to both: one input, which falls out."""
    assert swayed(length(clip(), 9)) < 1e-4


def test_without_a_wall_the_background_is_taken_for_far_away() -> None:
    """1/D of it: the most that coming nearer can do."""
    found = length(clip(), 0, distance=DISTANCE, within=0.15)
    assert swayed(found) == pytest.approx(SWAY / math.sqrt(3) / DISTANCE, rel=0.05)


def test_the_truth_lies_inside_as_often_as_stated() -> None:
    """Clicks, sway, distances and motion drawn as stated: 92 to 98 % of 120, to two binomial u."""
    inside = []
    for seed in range(120):
        found = length(clip(seed), 0)
        inside.append(found.low <= LENGTH <= found.high)
    low, high = (2 * math.sqrt(p * (1 - p) / len(inside)) for p in (0.92, 0.98))
    assert 0.92 - low <= np.mean(inside) <= 0.98 + high


def test_its_size_is_that_of_opencv_s_cameras() -> None:
    """With exact clicks and a registered wall, the length is wrong by the drawn t (1/z − 1/W)."""
    for seed in (1, 2, 3):
        made = clip(seed, click_u=0.0)
        nearer = made.room.moved[9].sway[2]
        off = length(made, 0).value / length(made, 9).value - 1
        z = made.room.camera.distance
        assert off == pytest.approx(-nearer * (1 / z - 1 / made.wall), abs=0.0015)
