"""The drawn swingers move as a body can."""

from __future__ import annotations

import numpy as np
import pytest

from lessonpress.records.mark import KNOWN_MARKS
from tests.studio import body
from tests.studio.body import Swinger, marks_at
from tests.studio.swingers import DUNE, SHINGLE

INCH = 0.0254
BOTH = pytest.mark.parametrize("swinger", [DUNE, SHINGLE], ids=lambda s: s.name)


@BOTH
def test_every_known_mark_is_placed(swinger: Swinger) -> None:
    assert set(marks_at(swinger, 0.5)) == set(KNOWN_MARKS)


@BOTH
def test_limbs_keep_their_published_lengths_and_stay_in_reach(swinger: Swinger) -> None:
    """Drillis and Contini's fractions (Winter) hold at every moment; nothing is stretched to reach."""
    limbs = {
        ("shoulder", "elbow"): 0.186,
        ("elbow", "wrist"): 0.146,
        ("hip", "knee"): 0.245,
        ("knee", "ankle"): 0.246,
        ("heel", "toe"): 0.152,
    }
    for t in np.linspace(0, swinger.duration, 60):
        pose = swinger.motion.pose(float(t))
        assert pose.strain <= 1.01
        assert pose.spine_length == pytest.approx(body.SPINE, abs=0.02)
        for side in ("lead", "trail"):
            for (a, b), fraction in limbs.items():
                length = np.linalg.norm(pose.joints[f"{side}-{b}"] - pose.joints[f"{side}-{a}"])
                assert length / swinger.stature == pytest.approx(fraction, abs=0.002)


@BOTH
def test_the_club_is_at_the_ball_at_setup_and_at_impact(swinger: Swinger) -> None:
    for event in ("setup", "impact"):
        marks = marks_at(swinger, swinger.events[event])
        gap = marks["ball"] - marks["implement-head"]
        assert np.linalg.norm(gap) < 0.04
        assert gap[0] > 0


@BOTH
def test_at_setup_both_arms_hang_nearly_straight(swinger: Swinger) -> None:
    """Neither elbow is bent by more than 35°, and the two by no more than 20° unlike.

    Common practice of the trade, no published source.
    """
    joints = swinger.motion.pose(swinger.events["setup"]).joints
    bends = []
    for side in ("lead", "trail"):
        upper = body.unit(joints[f"{side}-elbow"] - joints[f"{side}-shoulder"])
        fore = body.unit(joints[f"{side}-wrist"] - joints[f"{side}-elbow"])
        bends.append(np.degrees(np.arccos(upper @ fore)))
    assert max(bends) < 35
    assert abs(bends[0] - bends[1]) < 20


def test_dune_swings_as_the_trade_describes() -> None:
    """Pelvis 4 in away by the top, about 12 in back by impact, 30° of lean, C7 staying; 3 to 1.

    Common practice of the trade, no published source.
    """
    at = {event: marks_at(DUNE, t) for event, t in DUNE.events.items()}
    navel = {event: (marks["navel"][0] - at["setup"]["navel"][0]) / INCH for event, marks in at.items()}
    assert navel["top"] == pytest.approx(-4, abs=0.3)
    assert navel["impact"] - navel["top"] == pytest.approx(12, abs=0.5)
    lean = at["impact"]["navel"] - at["impact"]["c7"]
    assert np.degrees(np.arctan2(lean[0], -lean[1])) == pytest.approx(30, abs=1.5)
    assert abs(at["impact"]["c7"][0]) < 1 * INCH
    assert DUNE.backswing / DUNE.downswing == pytest.approx(3)


@BOTH
def test_the_motion_has_no_jumps(swinger: Swinger) -> None:
    step = 1 / 2000
    for name in KNOWN_MARKS:
        if name == "ball":
            continue
        places = np.array([marks_at(swinger, t)[name] for t in np.arange(0, swinger.duration, step * 20)])
        speeds = np.linalg.norm(np.diff(places, axis=0), axis=1) / (step * 20)
        assert speeds.max() < 55
