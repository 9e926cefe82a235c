"""Turns of shoulders and hips on a drawn swing, whose lines also lean: the truth inside what is printed."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from dataclasses import replace
from pathlib import Path

import pytest
from scipy.optimize import brentq
from scipy.stats import binom

from lessonpress.measure import At, Measured, Refusal, Survey
from tests.chain.bodies import other_bodies
from tests.chain.chain import filmed, write_site
from tests.chain.chance import tries
from tests.chain.swing import place
from tests.studio.body import Swinger
from tests.studio.camera import Camera
from tests.studio.clip import MadeClip, frame_times, make_clip
from tests.studio.swingers import DUNE
from tests.studio.truth import truth_of

BODIES = len(tries(12))
IMPACT = 2  # a stage of key poses
LINES = {"shoulders": ("trail-shoulder", "lead-shoulder"), "hips": ("trail-hip", "lead-hip")}
NO_MORE = re.compile(r"a turn of no more than (\d+)°")


def asked(survey: Survey, clip: MadeClip, line: str, now: str) -> Measured | Refusal:
    a, b = LINES[line]
    frames = clip.events["setup"], clip.events[now]
    return survey.turn(*((At(a, frame), At(b, frame)) for frame in frames))


def true_turn(clip: MadeClip, line: str, now: str) -> float:
    return clip.truth.turn(*LINES[line], clip.seconds("setup"), clip.seconds(now))


def holds(found: Measured | Refusal, truth: float) -> bool:
    """Inside the interval, or no larger than a refusal says it is at most."""
    if isinstance(found, Measured):
        return found.low <= truth <= found.high
    most = NO_MORE.match(found.reason)
    return most is not None and truth <= float(most[1])


def turned_at_impact(wanted: float) -> Swinger:
    """Dune with the shoulders turned by `wanted` degrees at impact; they lean by some 43° there."""

    def opened(chest: float) -> Swinger:
        posed = (replace(key, chest_turn=chest) if key.stage == IMPACT else key for key in DUNE.keys)
        return replace(DUNE, name="Leaning", keys=tuple(posed))

    def off(chest: float) -> float:
        truth = truth_of(opened(chest), Camera())
        return truth.turn(*LINES["shoulders"], DUNE.events["setup"], DUNE.events["impact"]) - wanted

    return opened(brentq(off, 20, 32, xtol=0.01))


def test_shoulders_that_tip_at_impact_are_not_taken_for_turned(tmp_path: Path) -> None:
    """16° of turn, 43° of lean: all of the shortening taken for turn would be more than twice as much."""
    body = turned_at_impact(16)
    root = write_site(tmp_path)
    clip = make_clip(root, body, times=frame_times(1.2, 60), rate=60)
    a, b = LINES["shoulders"]
    truth = true_turn(clip, "shoulders", "impact")
    assert truth == pytest.approx(16, abs=1)
    place(clip, None)
    first, now = (
        clip.truth.flat(b, clip.seconds(event)) - clip.truth.flat(a, clip.seconds(event))
        for event in ("setup", "impact")
    )
    assert math.degrees(math.acos(now[0] / first[0])) > 2 * truth
    found = asked(filmed(root, clip.name).survey, clip, "shoulders", "impact")
    assert math.degrees(math.atan2(now[1], now[0])) == pytest.approx(43, abs=2)
    assert holds(found, truth), f"{found} for {truth}"


def test_turns_of_many_bodies_hold_the_truth(kinds_clip: MadeClip, tmp_path: Path) -> None:
    """Shoulders and hips, at the top and at impact: fewer hits than the lowest hundredth at 92 % fail."""
    root = write_site(tmp_path)
    inside: dict[str, list[bool]] = defaultdict(list)
    for seed, clip in other_bodies(root, kinds_clip, BODIES):
        place(clip, seed)
        survey = filmed(root, clip.name).survey
        for line in LINES:
            for now in ("top", "impact"):
                found = asked(survey, clip, line, now)
                inside[f"{line} at {now}"].append(holds(found, true_turn(clip, line, now)))
    assert [len(hits) for hits in inside.values()] == [BODIES] * 2 * len(LINES)
    for name, hits in inside.items():
        assert sum(hits) >= binom.ppf(0.01, len(hits), 0.92), f"{name}: {sum(hits)} of {len(hits)}"
