"""How two clips' clocks are joined, and which places of one show a mark at an instant of the other."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure import At
from lessonpress.measure.second.timing import JUDGED, timing
from lessonpress.measure.second.view import SecondView
from tests.measure.twoviews import Filmed, filmed
from tests.studio.swingers import DUNE

RATE = 240
HALVES = math.hypot(0.5 / RATE, 0.5 / RATE) / math.sqrt(3)  # s, half a picture in each clip


@pytest.fixture(scope="module")
def pair() -> tuple[Filmed, Filmed]:
    rng = np.random.default_rng(6)
    faced, along = (
        filmed(DUNE, view, rng, rate=RATE, followed=("lead-wrist",)) for view in ("face-on", "down-the-line")
    )
    return faced, along


@pytest.fixture(scope="module")
def view(pair: tuple[Filmed, Filmed]) -> SecondView:
    second = pair[0].survey(pair[1]).scene.second
    assert second is not None
    return second


def test_clocks_are_joined_by_impact_to_half_a_picture_of_each(pair: tuple[Filmed, Filmed]) -> None:
    found = timing(pair[0].setting, pair[1].setting)
    assert found is not None
    assert found.later.u == pytest.approx(HALVES, rel=1e-6)
    assert abs(found.later.value - (pair[0].start - pair[1].start)) <= 1 / RATE


def test_another_instant_is_a_matter_of_judgement(pair: tuple[Filmed, Filmed]) -> None:
    faced, along = (replace(clip.setting, events={"top": clip.setting.events["top"]}) for clip in pair)
    found = timing(faced, along)
    assert found is not None and found.later.u == pytest.approx(math.hypot(JUDGED, HALVES), rel=1e-6)


def test_a_mark_placed_at_an_event_alone_is_taken_there(
    pair: tuple[Filmed, Filmed], view: SecondView
) -> None:
    """What it may have moved: an elbow goes 7 m/s at most, a tenth of it at the top."""
    found = view.pairing(pair[0].at("lead-elbow", "top"))
    assert found is not None
    assert found.before == found.after == pair[1].at("lead-elbow", "top")
    assert found.moved == pytest.approx(0.7 * HALVES, rel=1e-6)


def test_a_mark_that_was_followed_is_joined_between_two_pictures(
    pair: tuple[Filmed, Filmed], view: SecondView
) -> None:
    """Its depth midway down is that of the joints, within twice its u."""
    frame = pair[0].setting.events["impact"] - 20
    at = At("lead-wrist", frame)
    found = view.pairing(at)
    assert found is not None and found.after.frame == found.before.frame + 1 and 0 <= found.part <= 1
    seconds = pair[0].start + (pair[0].setting.times or ())[frame]
    depth = float(view.depth(at, view.one.best)[0])
    assert abs(depth - pair[0].truth.depth("lead-wrist", seconds)) <= 2 * view.u(at)


def test_marks_of_the_room_and_marks_that_are_not_there_have_no_second_view(
    pair: tuple[Filmed, Filmed], view: SecondView
) -> None:
    assert view.pairing(At("stick-top", 0)) is None
    assert view.pairing(At("lead-elbow", pair[0].setting.events["impact"] - 20)) is None
