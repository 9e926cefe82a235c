"""Errors that suggested places share, against errors drawn by numpy and measured one by one.

Draws are of a multivariate normal distribution whose covariance is written out here, and each is surveyed
as marks that lie there, so that nothing of how the measuring room writes correlation is in them (JCGM
101:2008, 6.4.8 for such draws, 5.9.6 for what they say of a first-order u).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure import At, Measured, Refusal, Setting, Survey
from lessonpress.records import Observation, SuggestedErrors
from tests.measure.test_survey import ROOM
from tests.measure.test_survey import SETTING as ALONE
from tests.suggesting.together import correlation

AXES = {"navel": (1.3, 0.6), "lead-shoulder": (0.8, 1.2), "trail-shoulder": (0.8, 1.2)}
ALONE_TOO = SuggestedErrors(1e-3, 0.2, AXES, {})  # of the same sizes, with nothing in common
ERRORS = SuggestedErrors(
    0.1, 0.2, AXES, {"shoulder": (-0.7, -0.5), "wrist": (0.0, 0.4)}, {"navel": (0.8, 0.0), "c7": (-0.6, 0.0)}
)
SETTING = replace(ALONE, times=tuple(0.02 * frame for frame in range(60)), suggested=ERRORS)
U = 8.0
AT = {"lead-shoulder": (700.0, 260.0), "trail-shoulder": (580.0, 270.0), "navel": (640.0, 400.0)}
FRAMES = (7, 9, 40)  # 0.14 s, 0.18 s and 0.8 s: two within `lasts`, on both sides of a knot or not
PLACES = [Observation(mark, frame, *AT[mark], U, suggested=True) for frame in FRAMES for mark in AT]
DRAWS = 1500

Asked = tuple[str, int, str, int]
SHIFTS: dict[str, Asked] = {
    "soon": ("navel", 7, "navel", 9),
    "late": ("navel", 7, "navel", 40),
    "both sides": ("trail-shoulder", 9, "lead-shoulder", 9),
    "both sides, soon": ("trail-shoulder", 7, "lead-shoulder", 9),
}


def shift(survey: Survey, asked: Asked) -> Measured:
    mark, then, other, now = asked
    found = survey.distance(At(mark, then), At(other, now), "level")
    assert not isinstance(found, Refusal)
    return found


def covariance(axis: int) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """Of the errors of PLACES, px²."""
    table = np.zeros((len(PLACES), len(PLACES)))
    for i, one in enumerate(PLACES):
        for j, other in enumerate(PLACES):
            times = [np.array([SETTING.times[seen.frame]]) for seen in (one, other)]  # type: ignore[index]
            lasting = float(correlation(*times, ERRORS.lasts)[0])
            alike = {True: 1.0, False: ERRORS.pairs["shoulder"][axis] / (1 - ERRORS.own)}
            related = one.mark == other.mark or "navel" not in (one.mark, other.mark)
            table[i, j] = (1 - ERRORS.own) * lasting * alike[one.mark == other.mark] * related
        table[i, i] = 1.0
    u = U * np.array([AXES[seen.mark][axis] for seen in PLACES])
    return np.asarray(table * np.outer(u, u))


@pytest.fixture(scope="module")
def drawn() -> dict[str, list[float]]:
    """The values of SHIFTS for marks that err so."""
    chance = np.random.default_rng(14)
    off = np.stack(
        [chance.multivariate_normal(np.zeros(len(PLACES)), covariance(axis), DRAWS) for axis in (0, 1)], -1
    )
    values: dict[str, list[float]] = {name: [] for name in SHIFTS}
    for errors in off:
        moved = [
            replace(seen, x=seen.x + dx, y=seen.y + dy)
            for seen, (dx, dy) in zip(PLACES, errors.tolist(), strict=True)
        ]
        survey = Survey(ALONE, [*ROOM, *moved])
        for name, asked in SHIFTS.items():
            values[name].append(survey_value(survey, asked))
    return values


def survey_value(survey: Survey, asked: Asked) -> float:
    """The level distance of two places as the camera at its best values shows it, m; no u is asked for."""
    mark, then, other, now = asked
    scene = survey.scene
    (first, _), (second, _) = scene.placed(scene.best, (At(mark, then), At(other, now)))
    return float(second[0] - first[0])


@pytest.mark.parametrize("name", SHIFTS)
def test_u_is_the_spread_of_numbers_whose_marks_err_together(
    name: str, drawn: dict[str, list[float]]
) -> None:
    """Of the u that marks bring; 1500 draws know a spread to 2 %."""
    found = shift(Survey(SETTING, [*ROOM, *PLACES]), SHIFTS[name])
    marks = sum(part.share for part in found.budget.shares if "suggested" in part.words)
    assert found.u * marks**0.5 == pytest.approx(np.std(drawn[name]), rel=0.06)


@pytest.mark.parametrize("name", SHIFTS)
def test_truth_lies_within_two_u_as_often_as_said(name: str, drawn: dict[str, list[float]]) -> None:
    """95.45 of 100 for two u of a normal error, to 1.6 with 1500 draws (three standard deviations)."""
    found = shift(Survey(SETTING, [*ROOM, *PLACES]), SHIFTS[name])
    marks = sum(part.share for part in found.budget.shares if "suggested" in part.words)
    within = np.abs(np.array(drawn[name]) - found.value) <= 2 * found.u * marks**0.5
    assert within.mean() == pytest.approx(0.9545, abs=0.025)


def test_a_shift_of_near_pictures_is_narrower_and_of_far_ones_as_if_alone() -> None:
    together, alone = (
        Survey(replace(SETTING, suggested=errors), [*ROOM, *PLACES]) for errors in (ERRORS, ALONE_TOO)
    )
    assert shift(together, SHIFTS["soon"]).u < 0.75 * shift(alone, SHIFTS["soon"]).u
    assert shift(together, SHIFTS["late"]).u == pytest.approx(shift(alone, SHIFTS["late"]).u, rel=1e-6)


def test_sides_that_err_oppositely_make_a_breadth_wider_and_the_middle_narrower() -> None:
    middles = {"shoulders": ("lead-shoulder", "trail-shoulder")}
    together, alone = (
        Survey(replace(SETTING, suggested=errors, middles=middles), [*ROOM, *PLACES])
        for errors in (ERRORS, ALONE_TOO)
    )
    assert shift(together, SHIFTS["both sides"]).u > 1.2 * shift(alone, SHIFTS["both sides"]).u
    middle: Asked = ("shoulders", 7, "shoulders", 40)
    assert shift(together, middle).u < 0.65 * shift(alone, middle).u


def test_marks_of_a_group_that_err_oppositely_make_a_lean_wider() -> None:
    """A difference of two places has u √(u₁² + u₂² − 2 r u₁ u₂) by JCGM 100:2008, 5.2.2, equation (13); r is
    the product of what each has in common, -0.48, and u₁ is 1.3 u₂.
    """
    places = [
        Observation("navel", 9, 640, 400, U, suggested=True),
        Observation("c7", 9, 640, 250, U, suggested=True),
    ]
    asked = ("navel", 9, "c7", 9)
    us = []
    for neck in (ERRORS.neck, {}):
        errors = replace(ERRORS, neck=neck)
        found = shift(Survey(replace(SETTING, suggested=errors), [*ROOM, *places]), asked)
        marks = sum(part.share for part in found.budget.shares if "suggested" in part.words)
        us.append(found.u * marks**0.5)
    assert us[0] / us[1] == pytest.approx(((2.69 + 2 * 0.48 * 1.3) / 2.69) ** 0.5, rel=0.01)


@pytest.mark.parametrize("lead", [True, False])
def test_a_place_by_itself_is_as_sure_as_it_says(lead: bool) -> None:
    """However its u is parted, at all times and also for a mark that was carried from there."""
    mark = "lead-shoulder" if lead else "navel"
    for frame in range(60):
        survey = Survey(SETTING, [Observation(mark, frame, 640, 400, U, suggested=True)])
        assert survey.placed_within(At(mark, frame)) == pytest.approx(U * max(AXES[mark]))
    there = Observation(mark, 7, 640, 400, U, suggested=True)
    carried = Observation(mark, 20, 630, 400, 6.0, tracked=True, origin=7)
    survey = Survey(SETTING, [there, carried])
    assert survey.placed_within(At(mark, 20)) == pytest.approx(np.hypot(6.0, U * max(AXES[mark])))


def test_marks_placed_by_hand_share_nothing() -> None:
    by_hand = [replace(seen, suggested=False) for seen in PLACES]
    for asked in SHIFTS.values():
        told, plain = (shift(Survey(setting, [*ROOM, *by_hand]), asked) for setting in (SETTING, ALONE))
        assert told.u == plain.u


def test_correlations_beyond_what_lasts_are_cut_off_there() -> None:
    """Of -0.9 only -0.8 can be shared where a fifth of the variance is each picture's own."""
    wild = replace(ERRORS, pairs={"shoulder": (-0.9, 0.0)})
    most = replace(ERRORS, pairs={"shoulder": (-0.8, 0.0)})
    found = [
        shift(Survey(setting, [*ROOM, *PLACES]), SHIFTS["both sides"]).u
        for setting in (replace(SETTING, suggested=wild), replace(SETTING, suggested=most))
    ]
    assert found[0] == pytest.approx(found[1])


def test_a_larger_golfer_is_not_said_to_narrow_what_was_suggested() -> None:
    """What a network is off by grows with the golfer in the picture."""

    def remedies(setting: Setting, places: list[Observation]) -> list[str]:
        return [one.words for one in shift(Survey(setting, [*ROOM, *places]), SHIFTS["late"]).narrower]

    by_hand = [replace(seen, suggested=False) for seen in PLACES]
    assert any("golfer" in words for words in remedies(SETTING, by_hand))
    for setting in (SETTING, ALONE):
        assert not any("golfer" in words for words in remedies(setting, PLACES))
