"""What no larger picture and no further click betters: how finely an eye defines a point of the body."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure import At, Measured, Setting, Survey
from lessonpress.measure.body.definition import seen_size
from lessonpress.records import Observation, View
from tests.bench.second_view import KINDS, LANDSCAPE, LARGE, OTHER, UPRIGHT
from tests.measure.twoviews import Filmed, filmed
from tests.studio.variation import another_body, of_other_proportions

BODIES = 12
OFF = 0.004  # m, each axis: by how much an eye takes a point of the body off (common practice, no source)


def clip_of(seed: int, view: View = "face-on", how: dict[str, object] = LANDSCAPE) -> Filmed:
    rng = np.random.default_rng([seed, 71])
    body = of_other_proportions(another_body(rng), rng)
    return filmed(body, view, rng, followed=(), **how)  # type: ignore[arg-type]


@pytest.mark.parametrize("view", OTHER)
@pytest.mark.parametrize("how", [LANDSCAPE, UPRIGHT])
def test_how_large_a_golfer_is_seen_is_found_before_any_camera(view: View, how: dict[str, object]) -> None:
    """To a sixth, whatever the proportions: parts of the body never look longer than they are."""
    for seed in range(4):
        clip = clip_of(seed, view, how)
        found = seen_size(clip.setting, clip.observations)
        assert found is not None
        assert found / float(how["fill"]) == pytest.approx(1, abs=1 / 6)  # type: ignore[arg-type]


def test_without_a_part_of_the_body_it_is_found_by_a_known_length_and_else_not() -> None:
    clip = clip_of(0)
    kept = [one for one in clip.observations if one.mark in ("navel", "stick-top", "stick-foot")]
    found = seen_size(clip.setting, kept)
    assert found is not None
    assert found == pytest.approx(260, rel=0.05)
    assert seen_size(replace(clip.setting, scales=()), kept) is None
    on_one_spot = [replace(one, x=1.0, y=1.0) for one in clip.observations]
    assert seen_size(clip.setting, on_one_spot) is None


def test_repeated_clicks_count_for_no_less_than_an_eye_can_define() -> None:
    """Stated to half a px on a picture of 1,120 px a metre; the end of a stick is seen to a pixel."""
    clip = clip_of(0, how=LARGE)
    survey = Survey(clip.setting, [replace(one, u=0.5) for one in clip.observations])
    seen, frame = survey.scene.observations, clip.setting.events["impact"]
    of_stick = min(seen.by_mark["stick-top"])
    assert seen.placed_within(At("navel", frame)) == pytest.approx(1120 * OFF, rel=1 / 6)
    assert seen.placed_within(At("stick-top", of_stick)) == 0.5
    assert clip.survey().scene.observations.placed_within(At("navel", frame)) >= 4.5  # what one click errs by


def test_one_click_on_a_usual_picture_is_what_it_was() -> None:
    seen = clip_of(0).survey().scene.observations
    assert seen.body_click_u == seen.click_u(None) == 1.5


@pytest.mark.parametrize("view", OTHER)
def test_numbers_of_clicks_that_agree_too_well_hold_the_truth(view: View) -> None:
    """A point that an eye takes 4 mm off, each axis, clicked again and again there: stated to half a px.

    Of all at least 92 %, less two standard deviations of a share of so many (binomial).
    """
    held = []
    for seed in range(BODIES):
        clip = clip_of(seed, view, LARGE)
        rng = np.random.default_rng([seed, 72])
        survey = Survey(clip.setting, [_again(one, clip, rng) for one in clip.observations])
        for name in ("tilt", "distance", "shift"):
            number = KINDS[name].ask(clip, survey)
            assert isinstance(number, Measured), str(number)
            held.append(number.low <= KINDS[name].truth(clip) <= number.high)
    assert np.mean(held) >= 0.92 - 2 * math.sqrt(0.92 * 0.08 / len(held)), held


def _again(one: Observation, clip: Filmed, rng: np.random.Generator) -> Observation:
    """The mark where it is, off by as much as an eye takes it off."""
    if one.mark in clip.setting.room:
        return one
    when = clip.start + (clip.setting.times or ())[one.frame]
    camera = clip.truth.camera
    x, y = camera.project(clip.truth.world(one.mark, when)[None])[0]
    off = rng.normal(0, OFF * camera.focal / camera.distance, 2)
    return replace(one, x=float(x + off[0]), y=float(y + off[1]), u=0.5)


def test_an_overhead_clip_without_lengths_has_clicks_of_the_picture_alone() -> None:
    setting = Setting("above", (1280, 720), view="overhead")
    survey = Survey(setting, [Observation("navel", 0, 1.0, 1.0, u=0.7)])
    assert survey.scene.observations.placed_within(At("navel", 0)) == 0.7
