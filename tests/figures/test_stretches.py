"""Which pictures a strip goes through from one instant to another, and what is measured on them."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.figures.plates import BoundLesson
from tests.figures.drawn import lesson_of, told_of

DRAWN = "draw:\n  - vertical: navel\n    placed: setup\n  - tilt: [navel, stick-top]\n    as: lean\n"


def block(fields: str) -> str:
    return f"```strip\n{fields}{DRAWN}```\n"


@pytest.fixture(scope="module")
def lesson(tmp_path_factory: pytest.TempPathFactory) -> BoundLesson:
    """Setup is frame 12, the top 192, impact 252; marks are placed there alone."""
    return lesson_of(tmp_path_factory.mktemp("strip"), block("from: setup\nto: impact\nevery: 30\n"))


def test_a_stretch_is_stepped_through_in_time_with_the_events_it_passes(lesson: BoundLesson) -> None:
    (plate,) = lesson.plates
    assert [panel.frame for panel in plate.stepped] == [12, 42, 72, 102, 132, 162, 192, 222, 252]
    assert [panel.label for panel in plate.panels] == ["Setup", "Top", "Impact"]


def test_measures_and_letters_are_those_of_the_pictures_named(lesson: BoundLesson) -> None:
    (plate,) = lesson.plates
    assert plate.measures == ("lean.setup", "lean.top", "lean.impact")
    assert lesson.named["lean.2"] is lesson.measures["lean.top"]
    assert [key.letters for key in plate.keys] == [("A",), ("B",)]
    assert [[one.letter for one in panel.drawn] for panel in plate.between] == [["A"]] * 6
    assert plate.description.count("\n\n") == 2


@pytest.mark.parametrize(
    ("every", "between"), [("25", [217, 242]), ("0.5 s", [207, 222, 237]), ("700 ms", [213, 234])]
)
def test_pictures_are_so_many_frames_or_so_long_apart(tmp_path: Path, every: str, between: list[int]) -> None:
    """30 pictures a second."""
    (plate,) = lesson_of(tmp_path, block(f"from: top\nto: impact\nevery: {every}\n")).plates
    assert [panel.frame for panel in plate.between] == between


def test_a_line_whose_marks_are_not_carried_is_reported_once(tmp_path: Path) -> None:
    told = told_of(tmp_path, block("from: top\nto: impact\nevery: 20\n"))
    assert told.count("this line is not on 2 of the 2 pictures between, from frame 212 on") == 1
