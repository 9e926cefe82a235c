"""When another clip gives no second view, and why."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from lessonpress.measure import Camera, KnownLength
from tests.measure.twoviews import STICK, Filmed, filmed
from tests.studio.swingers import DUNE


@pytest.fixture(scope="module")
def pair() -> tuple[Filmed, Filmed]:
    rng = np.random.default_rng(5)
    faced, along = (filmed(DUNE, view, rng, followed=()) for view in ("face-on", "down-the-line"))
    return faced, along


def changed(clip: Filmed, **keys: Any) -> Filmed:
    return replace(clip, setting=replace(clip.setting, **keys))


def test_two_views_of_one_swing_are_a_second_view_of_each_other(pair: tuple[Filmed, Filmed]) -> None:
    for one, other in (pair, pair[::-1]):
        assert one.survey(other).second_refused is None


WRONG: list[tuple[dict[str, Any], str]] = [
    ({"view": "from-target"}, "down-the-line is filmed from-target"),
    ({"view": "face-on"}, "both are filmed face-on"),
    ({"hand": "left"}, "one golfer is right-handed, the other left-handed"),
    ({"scales": ()}, "down-the-line gives no lengths: the clip has no scale"),
    ({"camera": Camera(4.3, 0.05)}, "the camera of down-the-line did not stand still"),
    ({"events": {}}, "the two cards name no instant in common"),
    ({"events": {"setup": 3}, "impact": None}, "no mark is placed at one instant in both"),
    ({"scales": (KnownLength(("stick-top", "stick-foot"), 1.3 * STICK),)}, "they do not show one swing"),
]


@pytest.mark.parametrize(("keys", "reason"), WRONG, ids=[reason for _, reason in WRONG])
def test_another_is_refused(pair: tuple[Filmed, Filmed], keys: dict[str, Any], reason: str) -> None:
    if keys == {"events": {"setup": 3}, "impact": None}:
        keys = {**keys, "events": {"finish": 3}}
        pair = changed(pair[0], events={"finish": 3}, impact=None), pair[1]
    refused = pair[0].survey(changed(pair[1], **keys)).second_refused
    assert refused is not None and refused.reason.startswith(reason), refused


def test_the_wrong_event_is_named_with_the_mark_that_lies_farthest_off(pair: tuple[Filmed, Filmed]) -> None:
    """Impact of one clip is taken for the top of the other."""
    faced, along = pair
    events = {"setup": along.setting.events["setup"], "impact": along.setting.events["top"]}
    refused = faced.survey(changed(along, events=events, impact=events["impact"])).second_refused
    assert refused is not None
    assert refused.reason.startswith("they do not show one swing: implement-head on frame")
    assert "face-on" in refused.reason and "down-the-line" in refused.reason


def test_a_number_of_a_refused_second_view_is_that_of_one_view(pair: tuple[Filmed, Filmed]) -> None:
    faced, along = pair
    ends = faced.at("navel", "impact"), faced.at("c7", "impact")
    alone, refused = faced.survey(), faced.survey(changed(along, scales=()))
    assert refused.tilt(*ends) == alone.tilt(*ends)
