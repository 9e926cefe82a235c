"""Path and speed in space where both views follow a mark, against the studio's joints in space."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from lessonpress.measure import At, Measured, Refusal
from lessonpress.records import View
from tests.bench.second_view import OTHER, SAME
from tests.measure.twoviews import Filmed, filmed
from tests.studio.variation import another_body

FOLLOWED = ("lead-wrist", "implement-head")
BEFORE = 12  # frames before impact
Pair = tuple[Filmed, Filmed]


@pytest.fixture(scope="module", params=["face-on", "down-the-line"])
def both(request: pytest.FixtureRequest) -> Pair:
    view: View = request.param
    rng = np.random.default_rng([2, 53])
    body = another_body(rng)
    clip = filmed(body, view, rng, followed=FOLLOWED)
    return clip, filmed(body, OTHER[view], rng, followed=FOLLOWED, same=SAME)


def world(clip: Filmed, mark: str, frame: float) -> np.ndarray:
    times = np.array(clip.setting.times)
    return clip.truth.world(mark, clip.start + float(np.interp(frame, range(len(times)), times)))


@pytest.mark.parametrize("mark", FOLLOWED)
def test_a_speed_in_space_holds_the_truth_and_is_no_less_than_in_the_picture(both: Pair, mark: str) -> None:
    """The truth by central differences of a hundredth of a picture."""
    clip, second = both
    survey, frame = clip.survey(second), clip.setting.events["impact"] - BEFORE
    found, flat = (survey.speed(At(mark, frame), space=space) for space in (True, False))
    assert isinstance(found, Measured), str(found)
    step = 0.01
    dt = 2 * step * ((clip.setting.times or ())[1] - (clip.setting.times or ())[0])
    true = float(np.linalg.norm(world(clip, mark, frame + step) - world(clip, mark, frame - step))) / dt
    assert found.low <= true <= found.high
    assert found.plane == "in space"
    if isinstance(flat, Measured):
        assert found.value > flat.value - flat.uncertainty


def test_a_path_in_space_holds_the_truth(both: Pair) -> None:
    clip, second = both
    last = clip.setting.events["impact"]
    found = clip.survey(second).path("implement-head", last - 30, last, space=True)
    assert isinstance(found, Measured), str(found)
    places = [world(clip, "implement-head", frame) for frame in range(last - 30, last + 1)]
    true = sum(float(np.linalg.norm(b - a)) for a, b in pairwise(places))
    assert found.low <= true <= found.high
    assert found.plane == "in space"


def test_along_a_motion_that_the_other_clip_does_not_follow_it_is_refused(both: Pair) -> None:
    clip, second = both
    survey, last = clip.survey(second), clip.setting.events["impact"]
    found = survey.path("c7", last - 30, last, space=True)
    assert isinstance(found, Refusal)
    alone = clip.survey().speed(At("implement-head", last - BEFORE), space=True)
    assert isinstance(alone, Refusal)
    assert "without a second view of this swing" in alone.reason
