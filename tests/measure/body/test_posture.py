"""The posture table against the drawn swingers, whose joints are known at every moment."""

from __future__ import annotations

import numpy as np
import pytest

from lessonpress.measure.body.posture import (
    DOWN_THE_LINE,
    DOWN_THE_LINE_AFTER,
    FACE_ON,
    FACE_ON_AFTER,
    head_at_ball,
    known,
    posture,
)
from lessonpress.records.view import View
from tests.studio.body import marks_at
from tests.studio.camera import to_view
from tests.studio.swingers import DUNE, SHINGLE, practised

SWINGERS = (DUNE, SHINGLE, practised(0.5))
VIEWS: tuple[View, ...] = ("face-on", "from-behind", "down-the-line", "from-target")
FEET = ("heel", "toe", "ankle")


def departures(view: View, *, after: bool) -> dict[str, np.ndarray]:
    """How far every mark lies from its row, in the row's u, over a part of the swing of every swinger."""
    found: dict[str, list[float]] = {}
    for swinger in SWINGERS:
        start, impact, finish = (swinger.events[event] for event in ("setup", "impact", "finish"))
        moments = np.arange(impact + 1 / 60, finish, 1 / 60) if after else np.arange(start, impact, 1 / 60)
        for moment in [*moments, *([] if after else [impact])]:
            for mark, place in marks_at(swinger, float(moment)).items():
                if not known(mark) or (mark == "ball" and after):
                    continue
                row = posture(mark, view, after=after)
                depth = to_view(place, view, swinger.hand)[2] / swinger.stature
                u = np.hypot(row.shared, row.per_frame)
                found.setdefault(mark, []).append((depth - row.depth) / u)
    return {mark: np.array(values) for mark, values in found.items()}


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("after", [False, True], ids=["up to impact", "after impact"])
def test_every_mark_of_every_swinger_lies_where_its_row_says(view: View, after: bool) -> None:
    """A root mean square below 1 u over the moments of a swing, and never more than 2.5 u away."""
    for mark, away in departures(view, after=after).items():
        assert np.sqrt(np.mean(away**2)) < 1, mark
        assert np.abs(away).max() < 2.5, mark


@pytest.mark.parametrize("view", VIEWS)
def test_rows_are_no_wider_than_the_swingers_need(view: View) -> None:
    """Marks that move lie 0.4 to 1 u from their rows over all: three times that u would not be needed.

    Feet are left out: the drawn ones are just where the published lengths put them.
    """
    for after in (False, True):
        found = departures(view, after=after)
        moving = np.concatenate([away for mark, away in found.items() if not mark.endswith(FEET)])
        assert 0.4 < np.sqrt(np.mean(moving**2)) < 1


def test_what_is_common_to_all_frames_is_the_same_before_and_after_impact() -> None:
    """The part of a mark's u that is shared is one input, and one input has one u."""
    for before, after in ((FACE_ON, FACE_ON_AFTER), (DOWN_THE_LINE, DOWN_THE_LINE_AFTER)):
        for mark, row in after.items():
            view: View = "face-on" if before is FACE_ON else "down-the-line"
            assert posture(mark, view).shared == row.shared, mark
    assert head_at_ball("face-on").shared == posture("implement-head", "face-on").shared


def test_where_impact_is_not_named_a_row_covers_both_sides_of_it() -> None:
    """The mean of both, and an u that holds either: that of a mixture of two distributions."""
    before, after = (posture("trail-hip", "face-on", after=late) for late in (False, True))
    either = posture("trail-hip", "face-on", after=None)
    drawn = np.random.default_rng(4).normal(0, 1, 200_000)
    mixed = np.concatenate([row.depth + row.per_frame * drawn for row in (before, after)])
    assert either.depth == pytest.approx(mixed.mean(), abs=1e-3)
    assert either.per_frame == pytest.approx(mixed.std(), rel=0.01)


@pytest.mark.parametrize("view", ["face-on", "from-behind"])
def test_a_head_at_impact_is_at_the_ball(view: View) -> None:
    """Within 2 u, half a picture's time at 30 pictures a second to either side included."""
    row = head_at_ball(view)
    for swinger in SWINGERS:
        for late in (-1 / 60, 0, 1 / 60):
            place = marks_at(swinger, swinger.events["impact"] + late)["implement-head"]
            depth = to_view(place, view, swinger.hand)[2] / swinger.stature
            assert abs(depth - row.depth) < 2 * np.hypot(row.shared, row.per_frame)


# A recorded swing of one golfer seen face-on, depths of stature; one golfer gives a direction, no figure.
RECORDED = {"hip": 0.01, "navel": 0.06}


@pytest.mark.parametrize("mark", RECORDED)
def test_a_golfer_who_stands_otherwise_in_all_frames_is_allowed_for_in_what_frames_share(mark: str) -> None:
    """Hips and navel were about 0.06 farther forward than segment lengths put them, all the way."""
    for side in ("lead-", "trail-") if mark == "hip" else ("",):
        row = posture(side + mark, "face-on")
        assert abs(RECORDED[mark] - row.depth) < 1.5 * row.shared


def test_the_trail_elbow_at_the_top_may_be_behind_the_feet() -> None:
    """0.07 of stature, in the same recorded swing; the lead one goes toward the ball meanwhile."""
    trail, lead = (posture(f"{side}-elbow", "face-on") for side in ("trail", "lead"))
    assert abs(-0.07 - trail.depth) < 2 * np.hypot(trail.shared, trail.per_frame)
    assert lead.depth > trail.depth
