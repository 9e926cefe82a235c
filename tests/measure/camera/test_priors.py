"""What is taken for known of a camera: the handbook's figures, common practice with no published source."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure import Camera, Lens, Setting, Survey
from lessonpress.measure.camera.priors import priors_of
from lessonpress.measure.uncertainty.propagation import first_order
from tests.measure.clips import Clip, SeveralScales

SETTING = Setting("clip", (1280, 720), camera=Camera(4.0), lens=Lens(focal=1300.0))


def test_a_stated_focal_length_is_good_to_2_percent_and_an_assumed_one_to_a_fifth_of_the_side() -> None:
    priors = priors_of(SETTING, plumb_lines=1)
    assert priors.focal is not None
    assert priors.focal.u == pytest.approx(26.0)
    assert (priors.assumed_focal.value, priors.assumed_focal.u) == pytest.approx((0.9 * 1280, 0.2 * 1280))


def test_a_camera_is_held_level_to_2_degrees_and_its_pitch_to_3() -> None:
    priors = priors_of(SETTING, plumb_lines=0)
    assert (priors.roll.u, priors.pitch.u) == pytest.approx((math.radians(2), math.radians(3)))
    assert priors_of(replace(SETTING, view="overhead"), 0).roll.u == 0


def test_a_distance_without_limits_is_good_to_5_percent_and_says_so() -> None:
    """5 % as limits: u = a/√3 (JCGM 100:2008, 4.3.7)."""
    distance = priors_of(SETTING, 0).distance
    assert distance.u == pytest.approx(0.2 / math.sqrt(3))
    assert distance.assumption == "camera distance within 5 %"


def test_what_hangs_is_plumb_to_three_tenths_of_a_degree() -> None:
    clip = Clip(np.random.default_rng(1))
    (line,) = clip.survey().scene.camera.solver.lines.lines
    assert line.true.u == pytest.approx(math.radians(0.3))


def test_scales_weigh_as_the_inverse_square_of_their_relative_uncertainty() -> None:
    """The weighted mean of least variance (any text on adjustment), each scale's u found by itself."""
    clip = SeveralScales(np.random.default_rng(1))
    setting, seen = clip.setting(), clip.room.sighted()
    inverse = []
    for scale in setting.scales:
        scene = Survey(replace(setting, scales=(scale,)), seen).scene
        alone = first_order(lambda values, s=scene: s.camera.solver.pose(values).metres, scene.inputs)
        inverse.append((alone.value / alone.u) ** 2)
    weights = Survey(setting, seen).scene.camera.solver.weights
    assert weights == pytest.approx([part / sum(inverse) for part in inverse], rel=0.02)
