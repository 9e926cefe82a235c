"""Control experiments: what physics says of a drawn film comes back from the printed numbers.

Falling body: v = g t, g = 9.80665 m/s² (standard gravity, third CGPM 1901). Pendulum: T = 2π √(L/g) for small
swings, longer by 1 + θ²/16 + 11 θ⁴/3072 for an amplitude θ (the standard series, any mechanics text).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from lessonpress.measure import At, Measured
from lessonpress.records.measure import Measure
from tests.chain.chain import (
    figure,
    filmed,
    holds,
    numbers,
    root_of,
    sight,
    told,
    track,
    write_lesson,
    write_site,
)
from tests.studio.clip import (
    PENDULUM_LENGTH,
    STANDARD_GRAVITY,
    MadeClip,
    make_drop,
    make_pendulum,
    write_yaml,
)

BALL = "falling-ball"  # `ball` alone is that on the tee, for which the posture table has a place
EARLY, LATE = 24, 60  # pictures of the fall, of 120 a second: at both the fall is surely more than its ±
ROOM_U = 0.5  # px: the room's marks were clicked several times, the least u that is stated for it
STATED: dict[str, Any] = {"readout": "0.01 ms"}  # the drawing takes every row at once
UNSTATED: dict[str, Any] = {"depth": None, "plumb": None}


def rewrite_card(clip: MadeClip, changes: Mapping[str, Any]) -> None:
    """Change keys of the card; None takes one out."""
    path = clip.folder / "clip.yaml"
    card = {**yaml.safe_load(path.read_text(encoding="utf-8")), **changes}
    write_yaml(path, {key: value for key, value in card.items() if value is not None})


@pytest.fixture(scope="session")
def fall(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """A ball let fall, its mark placed on the first picture and carried from there."""
    root = write_site(tmp_path_factory.mktemp("fall"))
    clip = make_drop(root, mark=BALL, radius=0.12)  # it fills the square that is followed
    sight(clip, {BALL: [0]}, {}, room_u=ROOM_U)
    made = track(root, clip.name, BALL)
    assert made[BALL].lost is None, made[BALL].lost
    sides = f"of:\n  - at: {LATE}\n  - at: {EARLY}"
    write_lesson(root, "fall", clip.name, figure("pair", "speeds", sides, f"speed: {BALL}\nas: fall"))
    return clip


def gravity(clip: MadeClip, changes: Mapping[str, Any]) -> tuple[float, float, dict[str, Measure]]:
    """g and its ± from two printed speeds, the ± of their difference and the times of their pictures."""
    kept = (clip.folder / "clip.yaml").read_text(encoding="utf-8")
    rewrite_card(clip, changes)
    found = numbers(root_of(clip), "fall")
    (clip.folder / "clip.yaml").write_text(kept, encoding="utf-8")
    gained = found["fall.difference"]
    assert gained.unit == "m/s" and gained.value is not None and gained.uncertainty is not None, (
        gained.refused
    )
    seconds = float(clip.times[LATE] - clip.times[EARLY])
    return gained.value / seconds, gained.uncertainty / seconds, found


def test_a_dropped_ball_gives_standard_gravity_to_two_per_cent(fall: MadeClip) -> None:
    """With the ball's depth and two plumb lines on the card, ± is under 2 % and holds 9.80665 m/s²."""
    g, pm, found = gravity(fall, STATED)
    for side, number in (("first", LATE), ("second", EARLY)):
        truth = fall.truth.speed(BALL, float(fall.times[number]))
        assert holds(found[f"fall.{side}"], truth), told(found[f"fall.{side}"], truth)
    assert abs(g - STANDARD_GRAVITY) <= pm, f"{g} ± {pm}"
    assert pm < 0.02 * STANDARD_GRAVITY


def test_errors_that_both_speeds_share_are_not_counted_twice(fall: MadeClip) -> None:
    """The scale is common to both: its part in v₂ − v₁ is that of the difference, not of both in quadrature.

    JCGM 100:2008, 5.2.2: correlated inputs add with their signs.
    """
    _, pm, found = gravity(fall, STATED)
    first, second = (found[f"fall.{side}"].uncertainty for side in ("first", "second"))
    assert first is not None and second is not None
    seconds = float(fall.times[LATE] - fall.times[EARLY])
    assert pm * seconds < first < math.hypot(first, second)


def test_without_depth_and_plumb_lines_gravity_is_less_sure_and_still_held(fall: MadeClip) -> None:
    sure, unsure = gravity(fall, STATED)[1], gravity(fall, {**STATED, **UNSTATED})
    assert unsure[1] > 1.5 * sure
    assert abs(unsure[0] - STANDARD_GRAVITY) <= unsure[1], f"{unsure[0]} ± {unsure[1]}"


def test_a_readout_that_is_not_stated_widens_gravity_and_still_holds_it(fall: MadeClip) -> None:
    sure, unsure = gravity(fall, STATED)[1], gravity(fall, {})
    assert unsure[1] > sure
    assert abs(unsure[0] - STANDARD_GRAVITY) <= unsure[1], f"{unsure[0]} ± {unsure[1]}"


def test_a_pendulum_gives_its_length_from_its_period(tmp_path: Path) -> None:
    """From film to period: the bob crosses the plumb line below its pivot twice the same way, T apart.

    The crossings lie between two pictures each, straight in time; L = g (T / 2π)² less the amplitude's part.
    The printed length of the thread agrees with it.
    """
    root = write_site(tmp_path)
    clip = make_pendulum(root, rate=40, swings=1.3)
    sight(clip, {"bob": [0], "pivot": [0]}, {}, room_u=ROOM_U)
    made = track(root, clip.name, "bob", "pivot")
    assert made["bob"].lost is None, made["bob"].lost
    blocks = [
        figure(
            "frame",
            "release",
            "at: setup",
            "tilt: [bob, pivot]\nas: amplitude",
            "distance: [pivot, bob]\nas: thread",
        )
    ]
    write_lesson(root, "pendulum", clip.name, *blocks)
    printed = numbers(root, "pendulum")
    survey = filmed(root, clip.name).survey
    places = []
    for number in range(len(clip.times)):
        found = survey.distance(At("pivot", number), At("bob", number), "level")
        assert isinstance(found, Measured)
        places.append(found.variable)
    crossings = [
        clip.times[i] + (clip.times[i + 1] - clip.times[i]) * places[i] / (places[i] - places[i + 1])
        for i in range(len(places) - 1)
        if places[i].nominal_value > 0 >= places[i + 1].nominal_value
    ]
    period = crossings[1] - crossings[0]
    assert printed["amplitude"].value is not None
    swing = abs(math.radians(printed["amplitude"].value))
    longer = 1 + swing**2 / 16 + 11 * swing**4 / 3072
    length = STANDARD_GRAVITY * (period / longer / (2 * np.pi)) ** 2
    assert abs(length.nominal_value - PENDULUM_LENGTH) <= 2 * length.std_dev, length
    assert 2 * length.std_dev < 0.02 * PENDULUM_LENGTH
    assert holds(printed["amplitude"], -5.0) or holds(printed["amplitude"], 5.0), printed["amplitude"].value
    assert holds(printed["thread"], PENDULUM_LENGTH), told(printed["thread"], PENDULUM_LENGTH)
