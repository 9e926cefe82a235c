"""The trade's own figures, drawn and measured back.

Common practice, no published source: face-on the middle of the pelvis goes 4 in away from the target by the
top and 12 in toward it from there to impact; the line from navel to C7 then leans 30° away from the target;
the backswing takes three times as long as the downswing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.chain.chain import figure, holds, numbers, told, write_lesson, write_site
from tests.studio.body import Swinger, marks_at
from tests.studio.clip import MadeClip, frame_times, make_clip
from tests.studio.swingers import DUNE

INCH = 0.0254
TOP, IMPACT = 1, 2  # stages of key poses


def carried(swinger: Swinger, stage: int, pelvis: float = 0.0, c7: float = 0.0) -> Swinger:
    """The swinger with pelvis and C7 of one key pose moved toward the target, m."""
    moved = []
    for key in swinger.keys:
        if key.stage == stage:
            x, y, z = key.pelvis
            cx, cy, cz = key.c7
            h = swinger.stature
            key = replace(key, pelvis=(x + pelvis / h, y, z), c7=(cx + c7 / h, cy, cz))
        moved.append(key)
    return replace(swinger, keys=tuple(moved))


def at(swinger: Swinger, event: str, mark: str) -> np.ndarray:
    return marks_at(swinger, swinger.events[event])[mark]


def made_to_measure() -> Swinger:
    """Dune with navel and C7 set to the trade's figures exactly, by repeated correction."""
    swinger = replace(DUNE, name="Gauge")
    for _ in range(12):
        start = at(swinger, "setup", "navel")[0]
        swinger = carried(swinger, TOP, start - 4 * INCH - at(swinger, "top", "navel")[0])
        swinger = carried(swinger, IMPACT, start + 8 * INCH - at(swinger, "impact", "navel")[0])
        navel, c7 = at(swinger, "impact", "navel"), at(swinger, "impact", "c7")
        wanted = navel[0] - np.tan(np.radians(30)) * (c7[1] - navel[1])
        swinger = carried(swinger, IMPACT, c7=wanted - c7[0])
    return swinger


@pytest.fixture(scope="module")
def gauge(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    root = write_site(tmp_path_factory.mktemp("trade"), units="in")
    swinger = made_to_measure()
    clip = make_clip(root, swinger, times=frame_times(1.2, 60), rate=60)
    write_lesson(
        root,
        "trade",
        clip.name,
        figure("frame", "top", "at: top", "shift: navel\nas: back\nexpect: 3..5 in away"),
        figure(
            "frame",
            "impact",
            "at: impact",
            "shift: navel\nsince: top\nas: through\nexpect: 10..14 in toward",
            "tilt: [navel, c7]\nas: spine\nexpect: 25..35 deg away",
        ),
        prose="Back {back:size}, through {through:size}, {spine:size} of lean, at {tempo:value} to one.",
    )
    return clip


FIGURES: dict[str, tuple[float, Callable[[MadeClip], float]]] = {
    "back": (-4 * INCH, lambda c: c.truth.shift("navel", c.seconds("setup"), c.seconds("top"))),
    "through": (12 * INCH, lambda c: c.truth.shift("navel", c.seconds("top"), c.seconds("impact"))),
    "spine": (-30.0, lambda c: c.truth.tilt("navel", "c7", c.seconds("impact"))),
    "tempo": (
        3.0,
        lambda c: (c.seconds("top") - c.seconds("setup")) / (c.seconds("impact") - c.seconds("top")),
    ),
}
FINE = {"back": 0.8, "through": 1.3, "spine": 3.0, "tempo": 0.2}  # what the ± of each is under, in print


@pytest.mark.parametrize("name", FIGURES)
def test_the_swing_is_drawn_to_the_trades_figures(gauge: MadeClip, name: str) -> None:
    wanted, drawn = FIGURES[name]
    assert drawn(gauge) == pytest.approx(wanted, abs=5e-4 if abs(wanted) < 1 else 0.05)


@pytest.mark.parametrize("name", FIGURES)
def test_the_trades_figures_are_measured_back(gauge: MadeClip, name: str) -> None:
    wanted, _ = FIGURES[name]
    found = numbers(gauge.folder.parent.parent, "trade")[name]
    assert holds(found, wanted), told(found, wanted)
    assert found.uncertainty is not None and found.uncertainty < FINE[name]
    assert found.unit == {"spine": "deg", "tempo": None}.get(name, "in")


def test_they_go_the_ways_that_the_trade_says(gauge: MadeClip) -> None:
    found = numbers(gauge.folder.parent.parent, "trade")
    assert found["back"].way == "away from the target"
    assert found["through"].way == "toward the target"
    assert found["spine"].way == "away from the target"


def test_the_figures_agree_with_each_other(tmp_path: Path) -> None:
    """12 − 4 = 8 in, and a line of 16 in that leans 30° reaches 8 in to the side (sin 30° = 1/2)."""
    swinger = made_to_measure()
    navel = [at(swinger, event, "navel")[0] / INCH for event in ("setup", "impact")]
    assert navel[1] - navel[0] == pytest.approx(12 - 4, abs=0.01)
    way = at(swinger, "impact", "c7")[:2] - at(swinger, "impact", "navel")[:2]
    assert abs(way[0]) / np.hypot(*way) == pytest.approx(0.5, abs=0.002)
