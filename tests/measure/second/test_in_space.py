"""Angles and distances in space from two views, against the studio's joints in space."""

from __future__ import annotations

import math
import os

import numpy as np
import pytest

from lessonpress.measure import Measured, Refusal, Survey
from lessonpress.records import View
from tests.bench.second_view import OTHER, SAME
from tests.measure.twoviews import Filmed, filmed
from tests.studio.variation import another_body

BODIES = max(2, round(14 * float(os.environ.get("COVERAGE_TIMES", "0.3"))))
ANGLES = (
    ("trail-elbow", "trail-wrist", "implement-head"),
    ("trail-shoulder", "trail-elbow", "trail-wrist"),
    ("lead-shoulder", "lead-wrist", "implement-head"),
    ("lead-shoulder", "lead-elbow", "lead-wrist"),
)
LENGTHS = (("navel", "lead-wrist"), ("trail-heel", "implement-head"), ("lead-hip", "lead-shoulder"))
Pair = tuple[Filmed, Filmed]


def pair(seed: int, view: View) -> Pair:
    rng = np.random.default_rng([seed, 47])
    body = another_body(rng)
    return filmed(body, view, rng, followed=()), filmed(body, OTHER[view], rng, followed=(), same=SAME)


def in_space(clip: Filmed, mark: str) -> np.ndarray:
    return clip.truth.world(mark, clip.when("top"))


def true_angle(clip: Filmed, a: str, v: str, b: str) -> float:
    """By the law of cosines, any text on geometry; the program takes an arctangent."""
    p, q, r = (in_space(clip, mark) for mark in (a, v, b))
    near, far, across = (float(np.linalg.norm(d)) for d in (p - q, r - q, p - r))
    return math.degrees(math.acos((near**2 + far**2 - across**2) / (2 * near * far)))


TURNED = (("trail-shoulder", "lead-shoulder"), ("trail-hip", "lead-hip"))
EVENTS = ("setup", "top", "impact")


def true_turn(clip: Filmed, line: tuple[str, str], then: str, now: str) -> float:
    """By the sine and cosine between the two level lines; the program takes each one's azimuth.

    The studio's x runs toward the target and z toward the ball.
    """
    (x0, z0), (x1, z1) = (
        (clip.truth.world(line[1], clip.when(event)) - clip.truth.world(line[0], clip.when(event)))[[0, 2]]
        for event in (then, now)
    )
    return math.degrees(math.atan2(z0 * x1 - x0 * z1, x0 * x1 + z0 * z1))


@pytest.fixture(scope="module")
def both() -> Pair:
    return pair(0, "face-on")


@pytest.mark.parametrize("view", OTHER)
def test_truths_in_space_lie_inside_the_interval(view: View) -> None:
    """At least 92 %, less two standard deviations of a share of so many (binomial)."""
    held = []
    for seed in range(BODIES):
        clip, second = pair(seed, view)
        survey = clip.survey(second)
        asked: list[tuple[Measured | Refusal, float]] = []
        for a, v, b in ANGLES:
            found = survey.angle_in_space(*(clip.at(mark, "top") for mark in (a, v, b)))
            asked.append((found, true_angle(clip, a, v, b)))
        for a, b in LENGTHS:
            found = survey.distance_in_space(clip.at(a, "top"), clip.at(b, "top"))
            asked.append((found, float(np.linalg.norm(in_space(clip, a) - in_space(clip, b)))))
        for line in TURNED:
            for then, now in (("setup", "top"), ("setup", "impact"), ("top", "impact")):
                found = turned(clip, survey, line, then, now)
                asked.append((found, true_turn(clip, line, then, now)))
        held += [one.low <= true <= one.high for one, true in asked if isinstance(one, Measured)]
    assert len(held) >= 10 * BODIES
    assert np.mean(held) >= 0.92 - 2 * math.sqrt(0.92 * 0.08 / len(held)), held


def turned(clip: Filmed, survey: Survey, line: tuple[str, str], then: str, now: str) -> Measured | Refusal:
    first, last = (tuple(clip.at(mark, event) for mark in line) for event in (then, now))
    return survey.turn_in_space(first, last)  # type: ignore[arg-type]


def test_a_turn_near_square_has_an_interval_and_a_side(both: Pair) -> None:
    """In the picture it is refused there, and to which side a line has turned is never seen."""
    clip, second = both
    survey, line = clip.survey(second), TURNED[0]
    then, now = (tuple(clip.at(mark, event) for mark in line) for event in ("setup", "impact"))
    assert isinstance(survey.turn(then, now), Refusal)  # type: ignore[arg-type]
    found = turned(clip, survey, line, "setup", "impact")
    assert isinstance(found, Measured) and found.uncertainty < 12
    assert found.low <= true_turn(clip, line, "setup", "impact") <= found.high
    back = turned(clip, survey, line, "setup", "top")
    assert isinstance(back, Measured)
    assert (back.value < 0, back.way) == (True, "away from the target")


def test_both_clips_say_the_same_of_a_turn(both: Pair) -> None:
    clip, second = both
    faced = turned(clip, clip.survey(second), TURNED[1], "setup", "top")
    along = turned(second, second.survey(clip), TURNED[1], "setup", "top")
    assert isinstance(faced, Measured) and isinstance(along, Measured)
    assert abs(faced.value - along.value) < math.hypot(faced.uncertainty, along.uncertainty)
    assert faced.way == along.way == "away from the target"


def test_both_clips_say_the_same_of_a_wrist_in_space(both: Pair) -> None:
    """In their pictures the two angles differ by far more than their ±."""
    clip, second = both
    faced = clip.survey(second).angle_in_space(*(clip.at(mark, "top") for mark in ANGLES[0]))
    along = second.survey(clip).angle_in_space(*(second.at(mark, "top") for mark in ANGLES[0]))
    assert isinstance(faced, Measured)
    assert isinstance(along, Measured)
    assert abs(faced.value - along.value) < math.hypot(faced.uncertainty, along.uncertainty)
    assert faced.plane == along.plane == "in space"


def test_without_a_second_view_nothing_is_measured_in_space(both: Pair) -> None:
    found = both[0].survey().angle_in_space(*(both[0].at(mark, "top") for mark in ANGLES[0]))
    assert isinstance(found, Refusal)
    assert "second view" in found.reason


def test_a_mark_that_the_other_clip_does_not_show_is_named(both: Pair) -> None:
    clip, second = both
    kept = tuple(seen for seen in second.observations if seen.mark != "navel")
    hidden = Filmed(second.setting, kept, second.truth, second.start)
    found = clip.survey(hidden).distance_in_space(clip.at("navel", "top"), clip.at("lead-wrist", "top"))
    assert isinstance(found, Refusal)
    assert found.reason.startswith("navel on frame")


def test_an_arm_that_may_be_straight_is_refused_and_not_bent() -> None:
    """A straight one errs to one side alone, so that an interval about its value would miss it."""
    clip, second = pair(0, "down-the-line")
    found = clip.survey(second).angle_in_space(
        *(clip.at(mark, "setup") for mark in ("lead-shoulder", "lead-elbow", "lead-wrist"))
    )
    assert isinstance(found, Refusal), found.value
    assert "so near a straight line" in found.reason
