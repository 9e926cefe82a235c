"""Balance and proportions against the published tables."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure import At, Camera, Depth, KnownLength, Measured, Refusal, Setting, Survey
from lessonpress.measure.body.anthropometry import SEGMENTS, mark_weights
from lessonpress.records.mark import Observation
from tests.measure.clips import Clip

PX = 300.0


def test_the_masses_of_a_body_sum_to_one() -> None:
    """Winter's table after Dempster: hand 0.006, forearm 0.016, upper arm 0.028, foot 0.0145, shank 0.0465,
    thigh 0.100 (each of two), head and neck 0.081, trunk 0.497 (from memory); so do the marks' weights.
    """
    assert sum(segment.mass for segment in SEGMENTS) == pytest.approx(1)
    assert sum(mark_weights().values()) == pytest.approx(1)


def test_a_mark_weighs_what_its_segments_put_on_it() -> None:
    """A knee carries 0.433 of its thigh and 0.567 of its shank: 0.0433 + 0.0264 (from the same table)."""
    assert mark_weights()["lead-knee"] == pytest.approx(0.100 * 0.433 + 0.0465 * 0.567)
    assert mark_weights()["head"] == pytest.approx(0.081)


def body(lean: float = 0.0) -> list[Observation]:
    """A golfer standing evenly, every mark of the trunk and arms moved aside by `lean` m."""
    observations = [Observation("stick-top", 0, 1000, 300), Observation("stick-foot", 0, 1000, 300 + PX)]
    for part, x, y in (
        ("ankle", 0.25, -1.0),
        ("knee", 0.2, -0.6),
        ("hip", 0.15, -0.1),
        ("shoulder", 0.2, 0.4),
        ("elbow", 0.22, 0.15),
        ("wrist", 0.05, -0.05),
    ):
        moved = 0.0 if part in ("ankle", "knee") else lean
        for side, sign in (("lead", 1), ("trail", -1)):
            place = 640 + (sign * x + moved) * PX, 360 - y * PX
            observations.append(Observation(f"{side}-{part}", 0, *place))
    return [*observations, Observation("head", 0, 640 + lean * PX, 360 - 0.65 * PX)]


def setting() -> Setting:
    return Setting(
        "clip",
        (1280, 720),
        camera=Camera(4.3, 0.1, still=True),
        plumb=(("stick-top", "stick-foot"),),
        scales=(KnownLength(("stick-top", "stick-foot"), 1.0, 0.002),),
        stature=1.8,
        room=frozenset({"stick-top", "stick-foot"}),
        depth={mark: Depth(0.0, 0.05) for mark in mark_weights()},
    )


def measured(found: Measured | Refusal) -> Measured:
    assert isinstance(found, Measured), str(found)
    return found


def test_a_body_that_stands_evenly_is_balanced_between_its_feet() -> None:
    """Halfway from trail ankle (0 %) to lead ankle (100 %)."""
    found = measured(Survey(setting(), body()).balance(0))
    assert found.value == pytest.approx(50)
    assert found.dimension == "percent"


def test_a_trunk_moved_to_the_lead_foot_takes_its_mass_along() -> None:
    """All but the legs below the hips moved by 10 cm: the centre moves by what weighs on those marks."""
    moved = sum(weight for mark, weight in mark_weights().items() if not mark.endswith(("ankle", "knee")))
    found = measured(Survey(setting(), body(0.1)).balance(0))
    assert found.value == pytest.approx(50 + 100 * 0.1 * moved / 0.5)


def test_balance_reads_the_same_for_either_hand() -> None:
    """Mirrored and with the other hand, lead stays lead."""
    mirrored = [replace(s, x=1280 - s.x) for s in body(0.1)]
    left = measured(Survey(replace(setting(), hand="left"), mirrored).balance(0))
    assert left.value == pytest.approx(measured(Survey(setting(), body(0.1)).balance(0)).value)


def test_all_missing_marks_are_named_at_once() -> None:
    """The refusal lists every mark that balance lacks."""
    some = [s for s in body() if s.mark not in ("head", "lead-elbow")]
    found = Survey(setting(), some).balance(0)
    assert isinstance(found, Refusal)
    assert "head" in found.reason and "lead-elbow" in found.reason


def test_balance_is_not_seen_down_the_line() -> None:
    """From there the ankles are one behind the other."""
    found = Survey(replace(setting(), view="down-the-line"), body()).balance(0)
    assert isinstance(found, Refusal) and "face on" in found.way_out


def test_the_centre_of_mass_is_drawn_where_it_is_measured() -> None:
    """Its place in the picture lies as far between the ankles as the number says."""
    survey = Survey(setting(), body(0.1))
    place = survey.centre_of_mass(0)
    assert not isinstance(place, Refusal)
    trail, lead = (survey.position(At(f"{side}-ankle", 0))[0] for side in ("trail", "lead"))
    assert 100 * (place[0] - trail) / (lead - trail) == pytest.approx(measured(survey.balance(0)).value)


def test_a_body_s_own_masses_are_in_the_budget_as_a_hundredth_of_its_stature() -> None:
    """Common practice, no published source."""
    clip = Clip(np.random.default_rng(1))
    balance = clip.survey().balance(0)
    assert isinstance(balance, Measured)
    (own,) = [share for share in balance.budget.shares if "masses" in share.words]
    assert own.u == pytest.approx(0.018)
