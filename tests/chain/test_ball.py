"""A ball without a depth on the card: on its tee, falling, in flight.

A fall from rest goes s = g t²/2 and v = g t with g = 9.80665 m/s² (CGPM 1901).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import yaml

from lessonpress.records.measure import Measure
from tests.chain.chain import figure, numbers, root_of, sight, write_lesson, write_site
from tests.studio.clip import STANDARD_GRAVITY, MadeClip, make_drop, write_yaml

CENTIMETRES = 100
NUMBER = 70  # the picture asked for


@pytest.fixture(scope="module")
def dropped(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Measure]:
    """Fall and speed of a ball let go in the plane of the golfer's feet, which the card does not say."""
    root = write_site(tmp_path_factory.mktemp("dropped"))
    clip = make_drop(root, times=np.arange(110) / 240, fps=30)
    forget_depth(clip.folder / "clip.yaml")
    sight(clip, {"ball": [0]}, {"ball": range(len(clip.times))})
    return fall_of(clip)


def forget_depth(card: Path) -> None:
    written = yaml.safe_load(card.read_text(encoding="utf-8"))
    del written["depth"]
    write_yaml(card, written)


def fall_of(clip: MadeClip) -> dict[str, Measure]:
    asked = ["shift: ball\naxis: plumb\nas: fall", "speed: ball\nas: speed"]
    block = figure("frame", "falling", f"at: {NUMBER}", *asked)
    write_lesson(root_of(clip), "falling", clip.name, block)
    return numbers(root_of(clip), "falling")


def gravity(measure: Measure, factor: float) -> tuple[float, float]:
    """g and its ±, m/s², from a number and what it is to be divided by, in SI units."""
    assert measure.value is not None and measure.uncertainty is not None, measure.refused
    unit = CENTIMETRES if measure.unit == "cm" else 1
    return abs(measure.value) / unit / factor, measure.uncertainty / unit / factor


@pytest.mark.parametrize("way", ["fall", "speed"])
def test_a_dropped_ball_falls_as_fast_as_its_uncertainty_says(way: str, dropped: dict[str, Measure]) -> None:
    seconds = NUMBER / 240
    found, uncertainty = gravity(dropped[way], seconds if way == "speed" else seconds**2 / 2)
    assert abs(found - STANDARD_GRAVITY) <= uncertainty, f"g = {found:.2f} ± {uncertainty:.2f}"
    assert uncertainty < 0.2 * STANDARD_GRAVITY


def test_the_number_says_that_the_ball_s_depth_is_not_known(dropped: dict[str, Measure]) -> None:
    assert len(dropped) == 2
    for measure in dropped.values():
        assert any("no posture is known for a ball" in words for words in measure.assumed)
