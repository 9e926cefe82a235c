"""Blur in a speed: what a mark's place along its streak does, by hand and by tracking; where it is refused.

The five-place slope of a parabola has weights (−2 −1 0 1 2)/10 (Savitzky and Golay 1964, from memory), so
that independent errors u along the way err by u/(Δ √10) in a speed.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from lessonpress.measure import At, Camera, Depth, KnownLength, Measured, Refusal, Setting, Survey
from lessonpress.measure.body.definition import BODY_U
from lessonpress.records.mark import Observation

RATE, SPEED, PX = 240.0, 12.0, 300.0  # pictures a second, m/s, px a metre
SETTING = Setting(
    "drawn",
    (1280, 720),
    target_right=1,
    camera=Camera(4.3, 0.0, still=True),
    plumb=(("stick-top", "stick-foot"),),
    scales=(KnownLength(("stick-top", "stick-foot"), 1.0),),
    depth={"bob": Depth(0.0, 0.0)},
    room=frozenset({"stick-top", "stick-foot"}),
    times=tuple(frame / RATE for frame in range(21)),
    readout=0.0,
)
STICK = [Observation("stick-top", 0, 600.0, 200.0, 0.5), Observation("stick-foot", 0, 600.0, 500.0, 0.5)]
EXPOSURE = 1 / 500


def seen(at: list[float], *, tracked: bool = False) -> list[Observation]:
    """A mark at these distances along the level, m, on frames 0, 1, …"""
    origin = 0 if tracked else None
    return [
        Observation("bob", frame, 300.0 + PX * x, 360.0, 0.5, tracked=tracked and frame > 0, origin=origin)
        for frame, x in enumerate(at)
    ]


def even(late: float | np.ndarray = 0.0, change: float = 0.0) -> list[float]:
    """Distances at an even speed, or one that changes by m/s²; late: s by which each place is seen late."""
    times = np.array(SETTING.times) - 10 / RATE + late
    return list(10 / RATE * SPEED + SPEED * times + change * times**2 / 2)


def share(found: Measured | Refusal, word: str) -> float:
    """The standard uncertainty that inputs of this word bring, m/s."""
    assert isinstance(found, Measured), str(found)
    parts = [one.share for one in found.budget.shares if word in one.words]
    return math.sqrt(sum(parts)) * found.u


def speed(observations: list[Observation], **card: object) -> Measured | Refusal:
    return Survey(replace(SETTING, **card), STICK + observations).speed(At("bob", 10))  # type: ignore[arg-type]


def test_hand_placed_marks_lie_anywhere_along_their_streaks() -> None:
    """v e/√12 for each of five places, rectangular (JCGM 100, 4.3.7), gives v e/(√12 √10 Δ) in the speed."""
    found = speed(seen(even()), shutter=EXPOSURE)
    assert share(found, "in its streak") == pytest.approx(
        SPEED * EXPOSURE * RATE / math.sqrt(12 * 10), rel=0.02
    )


def test_tracked_marks_keep_their_part_of_the_streak() -> None:
    """At an even speed a common delay changes nothing; else the speed is off by its change in that time."""
    assert share(speed(seen(even(), tracked=True), shutter=EXPOSURE), "in its streak") < 0.01
    found = speed(seen(even(change=400.0), tracked=True), shutter=EXPOSURE)
    assert share(found, "in its streak") == pytest.approx(400 * EXPOSURE / math.sqrt(12), rel=0.02)


def test_a_drawn_film_without_exposure_has_no_blur() -> None:
    found = speed(seen(even()), shutter=0.0)
    assert share(found, "streak") == 0 and share(found, "exposure") == 0


def test_an_unknown_shutter_allows_for_anything_up_to_a_picture_s_time() -> None:
    """The mean square of an exposure from 0 to e is e²/3; five clicks err by u/(Δ √10) besides."""
    found, stated = speed(seen(even())), speed(seen(even()), shutter=1 / 1000)
    assert isinstance(found, Measured) and isinstance(stated, Measured)
    assert "exposure from 0 to one picture's time, 4.2 ms" in found.assumed
    clicks = BODY_U * RATE / math.sqrt(10)
    expected = 2 * math.hypot(SPEED / math.sqrt(3 * 12 * 10), clicks)
    assert expected < found.uncertainty < 1.2 * expected  # tails are longer than a normal's
    of_a_shutter = 2 * math.hypot(SPEED * RATE / 1000 / math.sqrt(12 * 10), clicks)
    assert of_a_shutter < stated.uncertainty < 1.2 * of_a_shutter


def test_a_smear_of_more_than_ten_inches_is_refused_with_a_shutter_that_would_do() -> None:
    """12 m/s in 1/30 s are 0.40 m; a streak as short as a clubhead is wide (0.1 m) takes 1/120 s or less."""
    found = speed(seen(even()), shutter=1 / 30)
    assert isinstance(found, Refusal)
    assert found.reason.startswith("blur: bob smears over 15.7 in while a picture is exposed")
    assert found.way_out == "film it with a shutter of 1/125 s or shorter"
    assert isinstance(speed(seen(even()), shutter=1 / 60), Measured)


@pytest.mark.parametrize("stated", [True, False])
def test_the_truth_lies_inside_as_often_as_stated(stated: bool) -> None:
    """Places drawn evenly along their streaks and clicked: 92 to 98 % inside, to two binomial u."""
    generator = np.random.default_rng(17)
    inside = []
    for _ in range(150 if stated else 30):
        exposure = EXPOSURE if stated else generator.uniform(0, 1 / RATE)
        late = exposure * generator.uniform(-0.5, 0.5, len(SETTING.times or ()))
        clicked = np.array(even(late)) + generator.normal(0, 0.5, len(late)) / PX
        found = speed(seen(list(clicked)), shutter=EXPOSURE if stated else None)
        assert isinstance(found, Measured), str(found)
        inside.append(found.low <= SPEED <= found.high)
    low, high = (2 * math.sqrt(p * (1 - p) / len(inside)) for p in (0.92, 0.98))
    assert 0.92 - low <= np.mean(inside) <= 0.98 + high
