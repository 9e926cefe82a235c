"""A picture carries no more overlays than can be distinguished."""

from __future__ import annotations

from pathlib import Path

from lessonpress.figures.plan.crowding import MOST_SHOWN
from tests.figures.drawn import told_of

HEAD = "```frame\nat: impact\ndraw:\n"  # from line 6 of the lesson, so that the first overlay is in line 9
NOTE = "  - {{note: navel, text: part {number}{more}}}\n"


def notes(count: int, more: str = "") -> str:
    return "".join(NOTE.format(number=number, more=more) for number in range(count))


def test_as_many_overlays_as_can_be_read_are_drawn(tmp_path: Path) -> None:
    assert told_of(tmp_path, HEAD + notes(MOST_SHOWN) + "```\n") == ""


def test_the_first_overlay_too_many_is_an_error_reported_once(tmp_path: Path) -> None:
    told = told_of(tmp_path, HEAD + notes(160) + "```\n")
    assert told.splitlines()[0] == (
        "lessons/lesson.md:49:6: one picture of this figure carries 160 overlays, and no more than 40 can be "
        "told apart; draw the rest in a figure of their own, or on other pictures with `only`"
    )
    assert told.count("lessons/lesson.md:") == 1


def test_what_is_not_drawn_there_does_not_count(tmp_path: Path) -> None:
    """Overlays that are only measured, or drawn on other pictures of a strip, crowd nothing."""
    strip = "```strip\nframes: [setup, impact]\ndraw:\n"
    parted = notes(30, ", only: [setup]") + notes(30, ", only: [impact]") + notes(9, ", show: false")
    assert told_of(tmp_path, strip + parted + "```\n") == ""
