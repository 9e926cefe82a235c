"""How a stretch of a clip becomes a loop: which pictures, and how long each is shown."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from lessonpress.figures.bind.loops import loop_of
from lessonpress.figures.plates import Panel
from tests.drawing import sample
from tests.figures.drawn import lesson_of

LOOP = "```loop\nfrom: {}\nto: {}\nslowed: 8\n```\n"


def stretch(first: int, seconds: tuple[float, ...]) -> tuple[list[Any], list[Panel]]:
    """Pictures from a frame on, with the times of the whole clip."""
    filmed = SimpleNamespace(seconds=seconds)
    frames = range(first, len(seconds))
    planned = [SimpleNamespace(filmed=filmed, frame=frame) for frame in frames]
    panels = [replace(sample.panel_of(), frame=frame, seconds=seconds[frame]) for frame in frames]
    return planned, panels


def test_each_picture_is_shown_as_long_as_it_lasted_times_the_slowing() -> None:
    """The last one as long as the one before it."""
    made = loop_of(*stretch(1, (0.0, 0.1, 0.2, 0.5)), 4.0)
    assert made.shown == pytest.approx((0.4, 1.2, 1.2))
    assert made.seconds == pytest.approx(2.8)


def test_a_repeated_picture_is_left_out_and_its_time_goes_to_the_one_before() -> None:
    made = loop_of(*stretch(0, (0.0, 0.1, 0.1, 0.2)), 1.0)
    assert [panel.frame for panel in made.panels] == [0, 1, 3]
    assert made.shown == pytest.approx((0.1, 0.1, 0.1))


def test_a_loop_may_begin_with_a_repeated_picture() -> None:
    assert [panel.frame for panel in loop_of(*stretch(2, (0.0, 0.1, 0.1, 0.2)), 1.0).panels] == [2, 3]


def test_a_loop_of_a_clip_runs_from_its_first_frame_to_its_last(tmp_path: Path) -> None:
    """30 pictures a second, eight times slower: 8/30 s each."""
    (plate,) = lesson_of(tmp_path, LOOP.format(12, 20)).plates
    assert plate.loop is not None
    assert [panel.frame for panel in plate.loop.panels] == list(range(12, 21))
    assert plate.loop.shown == pytest.approx([8 / 30] * 9)
    assert [panel.label for panel in (plate.loop.panels[0], plate.loop.panels[1])] == ["Setup", "Frame 13"]
