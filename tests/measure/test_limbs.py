"""Depths by the lengths of limbs: truths lie inside ± for bodies of many proportions, and ± is narrower."""

from __future__ import annotations

import math
import os
import re
from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure import At, Depth, Measured, Survey
from lessonpress.records import View
from tests.bench.limbs import CLUB_U
from tests.bench.second_view import KINDS
from tests.measure.twoviews import Filmed, filmed
from tests.studio.variation import another_body, of_other_proportions

BODIES = max(2, round(10 * float(os.environ.get("COVERAGE_TIMES", "0.3"))))
WRIST = ("trail-elbow", "trail-wrist", "implement-head")
BEND = ("trail-shoulder", "trail-elbow", "trail-wrist")


def body_filmed(seed: int, view: View = "face-on", club_u: float | None = None) -> Filmed:
    rng = np.random.default_rng([seed, 43])
    return filmed(of_other_proportions(another_body(rng), rng), view, rng, followed=(), club_u=club_u)


@pytest.fixture(scope="module")
def clip() -> Filmed:
    return body_filmed(0)


def angle(clip: Filmed, survey: Survey, marks: tuple[str, str, str] = WRIST) -> Measured:
    found = survey.angle(*(clip.at(mark, "top") for mark in marks))
    assert isinstance(found, Measured), str(found)
    return found


def unlinked(clip: Filmed) -> Survey:
    """Measured by the posture table alone."""
    survey = clip.survey()
    survey.scene.limbs.linked = lambda ats: {}  # type: ignore[method-assign]
    return survey


@pytest.mark.parametrize("view", ["face-on", "down-the-line"])
def test_truths_of_bodies_of_other_proportions_lie_inside(view: View) -> None:
    """Of all numbers at least 92 %, less two standard deviations of a share of so many (binomial)."""
    held = []
    for seed in range(BODIES):
        clip = body_filmed(seed, view, club_u=CLUB_U if seed % 2 else None)
        survey = clip.survey()
        for marks in (WRIST, BEND):
            found = survey.angle(*(clip.at(mark, "top") for mark in marks))
            if isinstance(found, Measured):
                held.append(found.low <= clip.truth.angle(*marks, clip.when("top")) <= found.high)
        for kind in KINDS.values():
            number = None if kind.followed else kind.ask(clip, survey)
            if isinstance(number, Measured):
                held.append(number.low <= kind.truth(clip) <= number.high)
    assert len(held) > 4 * BODIES
    assert np.mean(held) >= 0.92 - 2 * math.sqrt(0.92 * 0.08 / len(held)), held


def test_the_length_of_a_forearm_narrows_angles_that_rest_on_it(clip: Filmed) -> None:
    """By a quarter at least, face-on; a number without an arm in it is what it was."""
    for marks in (WRIST, BEND):
        linked, table = (angle(clip, survey, marks) for survey in (clip.survey(), unlinked(clip)))
        assert linked.uncertainty < 0.75 * table.uncertainty
    shift = KINDS["shift"]
    assert shift.ask(clip, clip.survey()) == shift.ask(clip, unlinked(clip))


def test_the_budget_says_how_much_came_from_lengths_and_how_much_from_the_table(clip: Filmed) -> None:
    found = angle(clip, clip.survey())
    assert {"the body's lengths", "the posture table"} <= dict(found.budget.sources).keys()
    assert "way of the trail forearm toward the camera by its length" in " ".join(
        share.words for share in found.budget.shares
    )


def test_the_length_of_the_club_narrows_angles_that_rest_on_it() -> None:
    """The wrist's by a tenth at least face-on, and by half down the line; the budget says by what."""
    for seed, view, most in ((0, "face-on", 0.9), (1, "down-the-line", 0.5)):
        clip = body_filmed(seed, view, club_u=CLUB_U)
        without = replace(clip, setting=replace(clip.setting, implement_length=None))
        known, unknown = angle(clip, clip.survey()), angle(clip, without.survey())
        assert known.uncertainty < most * unknown.uncertainty
        assert known.low <= clip.truth.angle(*WRIST, clip.when("top")) <= known.high
        assert "way of the club toward the camera" in " ".join(one.words for one in known.budget.shares)
        assert {"the club's length", "the body's lengths"} <= dict(known.budget.sources).keys()


def test_a_number_of_one_linked_mark_is_the_postures() -> None:
    """Lengths say how far marks are apart in depth, so where a hand went is no wider for them."""
    clip = body_filmed(0, club_u=CLUB_U)
    without = replace(clip, setting=replace(clip.setting, implement_length=None))
    went = clip.at("lead-wrist", "setup"), clip.at("lead-wrist", "top")
    assert clip.survey().shift(*went) == without.survey().shift(*went) == unlinked(clip).shift(*went)


def test_a_club_seen_longer_than_its_card_says_it_is_says_nothing(clip: Filmed) -> None:
    """A length of another club, or a scale that is wrong: depths are those without it."""
    short = replace(clip, setting=replace(clip.setting, implement_length=0.6))
    said, unsaid = angle(short, short.survey()), angle(clip, clip.survey())
    assert (said.low, said.high) == (unsaid.low, unsaid.high)
    assert any("the club is seen longer on frame" in one for one in short.survey().warnings)
    right = body_filmed(0, club_u=0.0)
    assert not any("the club" in one for one in right.survey().warnings)


def test_a_stated_depth_of_a_wrist_is_handed_on_by_the_club() -> None:
    """It stays what the card says, and the clubhead is known from there."""
    clip = body_filmed(0, club_u=CLUB_U)
    frame = clip.setting.events["top"]
    true = clip.truth.depth("lead-wrist", clip.when("top"))
    card = replace(clip, setting=replace(clip.setting, depth={"lead-wrist": {frame: Depth(true, 0.02)}}))
    scene = card.survey().scene
    at = clip.at("lead-wrist", "top")
    assert scene.depth(at, scene.best, scene.pose)[0] == pytest.approx(true)
    marks = ("lead-shoulder", "lead-wrist", "implement-head")
    stated, postures = angle(card, card.survey(), marks), angle(clip, clip.survey(), marks)
    assert stated.uncertainty < postures.uncertainty


def test_a_limb_with_a_depth_on_the_card_keeps_it(clip: Filmed) -> None:
    stated = replace(clip.setting, depth={"trail-wrist": Depth(0.05, 0.02)})
    scene = Survey(stated, clip.observations).scene
    at = clip.at("trail-wrist", "top")
    assert scene.depth(at, scene.best, scene.pose)[0] == pytest.approx(0.05)
    elbow = clip.at("trail-elbow", "top")
    assert clip.survey().scene.limbs.linked_to(elbow)
    assert not scene.limbs.linked_to(elbow)


def test_a_limb_that_is_seen_too_long_says_nothing(clip: Filmed) -> None:
    """A wrist misplaced by a foot: a scale or a click is wrong, and its depth is the posture's."""
    at = clip.at("trail-wrist", "top")
    moved = tuple(
        replace(seen, x=seen.x + 80, y=seen.y - 80)
        if (seen.mark, seen.frame) == (at.mark, at.frame)
        else seen
        for seen in clip.observations
    )
    assert clip.survey().scene.limbs.linked_to(at)
    assert not Survey(clip.setting, moved).scene.limbs.linked_to(at)


def test_an_angle_of_which_draws_leave_hardly_anything_out_is_refused() -> None:
    """Down the line a club points away from the camera at the top; the table lets it point at it as well."""
    clip = body_filmed(0, "down-the-line")
    found = clip.survey().angle(*(clip.at(mark, "top") for mark in WRIST))
    assert not isinstance(found, Measured)
    assert "one end may lie far before the other" in found.reason


def test_a_limb_that_may_point_either_way_says_so_and_its_interval_holds_both() -> None:
    """Down the line a forearm is seen end on for much of a swing."""
    said = 0
    for seed in range(6):
        clip = body_filmed(seed, "down-the-line")
        found = clip.survey().angle(*(clip.at(mark, "top") for mark in BEND))
        if isinstance(found, Measured) and any("toward the camera or away" in one for one in found.assumed):
            said += 1
            true = clip.truth.angle(*BEND, clip.when("top"))
            assert found.low <= true <= found.high
    assert said


def test_along_a_motion_depths_are_the_postures(clip: Filmed) -> None:
    scene = clip.survey().scene
    at = At("trail-wrist", clip.setting.events["top"])
    span = clip.setting.events["setup"], at.frame
    alone = scene.depth_alone(at, scene.best, scene.pose, span)
    assert scene.depth(at, scene.best, scene.pose, span)[0] == alone[0]


def test_the_worked_line_is_of_the_same_depths_as_the_number() -> None:
    """Of two marks by themselves lengths may say nothing where they do of three."""
    clip = body_filmed(0, club_u=CLUB_U)
    marks = ("lead-shoulder", "lead-wrist", "implement-head")
    found = angle(clip, clip.survey(), marks)
    assert found.budget.worked.split(" = ")[1].startswith(f"{found.value:.1f}°")
    first, second = (
        float(part.replace("−", "-")) for part in re.findall(r"−?\d+\.\d", found.budget.worked)[:2]
    )
    turned = abs(first - second)
    assert min(turned, 360 - turned) == pytest.approx(found.value, abs=0.11)
