"""Depths by other swings of the same golfer, filmed from the other side after one another.

The bench `tests/bench/other_swings.py` asks the same of many bodies; here a few hold it to what it found.
"""

from __future__ import annotations

import math
import os
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from lessonpress.measure import At, KnownLength, Measured, Survey
from lessonpress.measure.second.spread import KNOWN_AS, NARROWEST, TOGETHER, Difference, swing_u, wider
from lessonpress.records import View
from tests.bench.other_swings import NUMBERS, swings_of
from tests.measure.twoviews import STICK, Filmed

BODIES = max(2, round(6 * float(os.environ.get("COVERAGE_TIMES", "0.3"))))
WRIST = ("trail-elbow", "trail-wrist", "implement-head")
Films = tuple[Filmed, list[Filmed], Filmed]


@pytest.fixture(scope="module")
def films() -> Films:
    return swings_of(3, "face-on", 73, followed=False)


def wrist(clip: Filmed, survey: Survey) -> Measured:
    found = survey.angle(*(clip.at(mark, "top") for mark in WRIST))
    assert isinstance(found, Measured), str(found)
    return found


@pytest.mark.parametrize("view", ["face-on", "down-the-line"])
def test_truths_lie_inside_the_interval_by_another_swing(view: View) -> None:
    """Of all numbers at least 92 %, less two standard deviations of a share of so many (binomial)."""
    held = []
    for seed in range(BODIES):
        clip, others, _ = swings_of(seed, view, 73, followed=False)
        survey = clip.survey(swings=others[:1])
        for kind in NUMBERS.values():
            number = None if kind.followed else kind.ask(clip, survey)
            if isinstance(number, Measured):
                held.append(number.low <= kind.truth(clip) <= number.high)
    assert len(held) >= 8 * BODIES
    assert np.mean(held) >= 0.92 - 2 * math.sqrt(0.92 * 0.08 / len(held)), held


def test_another_swing_narrows_an_angle_and_several_narrow_it_further(films: Films) -> None:
    clip, others, _ = films
    alone, one, three = (wrist(clip, clip.survey(swings=others[:count])) for count in (0, 1, 3))
    assert one.uncertainty < 0.7 * alone.uncertainty
    assert three.uncertainty < one.uncertainty


def test_its_budget_and_its_words_say_that_it_was_another_swing(films: Films) -> None:
    clip, others, _ = films
    found = wrist(clip, clip.survey(swings=others[:1]))
    assert "swings of one golfer differ as they do as a rule" in " ".join(found.assumed)
    sources = dict(found.budget.sources)
    assert sources["how much swings differ"] > 0.1
    assert "another swing, other-0" in sources
    assert any("as in another swing, frame" in words for words in found.budget.depths)
    assert "the same swing filmed down the line at once" in {one.words for one in found.narrower}


def test_a_depth_by_another_swing_lies_within_its_u(films: Films) -> None:
    """Of all marks at three events two in three, as of a normal distribution; a wrist to two inches."""
    clip, others, _ = films
    swings = clip.survey(swings=others).scene.swings
    assert swings is not None
    off = []
    for mark in (
        "trail-wrist",
        "trail-elbow",
        "lead-shoulder",
        "navel",
        "c7",
        "head",
        "trail-hip",
        "lead-knee",
    ):
        for event in ("setup", "top", "impact"):
            at = clip.at(mark, event)
            depth = float(swings.depth(at, swings.one.best)[0])
            off.append(abs(depth - clip.truth.depth(mark, clip.when(event))) / swings.u(at))
    assert np.mean(np.array(off) < 1) > 0.6
    assert max(off) < 3
    assert swings.u(clip.at("trail-wrist", "top")) < 0.055


def test_between_events_nothing_is_known_of_another_swing(films: Films) -> None:
    clip, others, _ = films
    swings = clip.survey(swings=others[:1]).scene.swings
    assert swings is not None
    assert not swings.knows_better(At("trail-wrist", clip.setting.events["top"] + 9))


def test_along_a_motion_the_events_at_its_ends_are_those_of_the_other_swing() -> None:
    """And the frames between run from one to the other with a bend."""
    clip, others, _ = swings_of(3, "face-on", 73, followed=True)
    scene = clip.survey(swings=others[:1]).scene
    assert scene.swings is not None
    top, impact = (clip.setting.events[event] for event in ("top", "impact"))
    for frame in (top, impact):
        at = At("lead-wrist", frame)
        along = scene.depth(at, scene.best, scene.pose, (top, impact))
        assert along[0] == pytest.approx(scene.swings.depth(at, scene.best)[0])
    at = At("lead-wrist", top)  # a motion of which one end is no event keeps to one source
    alone = scene.depth_alone(at, scene.best, scene.pose, (top, impact - 1))
    assert scene.depth(at, scene.best, scene.pose, (top, impact - 1))[0] == alone[0]


def test_swings_that_are_seen_to_differ_more_are_taken_to() -> None:
    """Worked by hand: nine differences of twice what is assumed, without noise, of which three count."""
    seen = [Difference(4.0, 0.0, 1.0)] * 9
    assert wider(seen, narrower=False) == pytest.approx(
        math.sqrt((KNOWN_AS + 9 * TOGETHER * 4) / (KNOWN_AS + 9 * TOGETHER))
    )
    assert wider([Difference(4.0, 3.0, 1.0)] * 9, narrower=False) == pytest.approx(1)  # noise explains it


def test_only_several_other_swings_make_it_less_than_is_assumed() -> None:
    seen = [Difference(0.0, 0.0, 1.0)] * 90
    assert wider(seen, narrower=False) == 1.0
    assert wider(seen, narrower=True) == NARROWEST


def test_hands_and_club_are_surer_at_the_ball_and_an_instant_of_ones_own_is_less_sure() -> None:
    assert swing_u("trail-wrist", "impact") < swing_u("trail-wrist", "top") < swing_u("trail-wrist", "late")
    assert swing_u("navel", "top", "up") < swing_u("navel", "top")


WRONG: list[tuple[dict[str, Any], str]] = [
    ({"view": "face-on"}, "both are filmed face-on"),
    ({"hand": "left"}, "one golfer is right-handed, the other left-handed"),
    ({"scales": ()}, "other-0 gives no lengths: the clip has no scale"),
    ({"events": {}}, "the two cards name no instant in common"),
    (
        {"scales": (KnownLength(("stick-top", "stick-foot"), 1.3 * STICK),)},
        "they differ by more than two swings of one golfer do: ",
    ),
]


@pytest.mark.parametrize(("keys", "reason"), WRONG, ids=[reason for _, reason in WRONG])
def test_another_clip_is_refused_by_itself(films: Films, keys: dict[str, Any], reason: str) -> None:
    """And the other swings are used all the same."""
    clip, others, _ = films
    wrong = replace(others[0], setting=replace(others[0].setting, **keys))
    survey = clip.survey(swings=[wrong, others[1]])
    assert list(survey.swings_refused) == ["other-0"]
    assert survey.swings_refused["other-0"].reason.startswith(reason)
    assert "another swing, other-1" in dict(wrist(clip, survey).budget.sources)
