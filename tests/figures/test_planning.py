"""What a figure gives away: the ids of its measures, its frames, its pictures."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.figures.drawn import lesson_of, told_of

STRIP = "```strip\nid: lean-through\nframes: [{}]\ndraw:\n  - tilt: [navel, c7]\n    as: lean\n```\n"


@pytest.mark.parametrize(
    ("frames", "ids"),
    [
        ("setup, impact", ["lean.setup", "lean.impact"]),
        ("setup, impact, setup", ["lean.1", "lean.impact", "lean.3"]),
        ("12, impact", ["lean.1", "lean.impact"]),
        ("impact, setup + 240", ["lean.impact", "lean.2"]),
    ],
)
def test_measures_of_a_strip_are_called_by_event_or_by_place(
    frames: str, ids: list[str], tmp_path: Path
) -> None:
    lesson = lesson_of(tmp_path, STRIP.format(frames))
    assert list(lesson.measures) == ids
    assert [lesson.named[f"lean.{number + 1}"].id for number in range(len(ids))] == ids


def test_measures_without_a_name_are_called_by_figure_kind_and_place(tmp_path: Path) -> None:
    """Lines, which measure nothing, are not counted."""
    body = (
        "```frame\nat: impact\n```\n\n```frame\nat: impact\ndraw:\n  - tilt: [navel, c7]\n"
        "  - vertical: navel\n  - shift: navel\n  - tilt: [c7, navel]\n```\n"
    )
    lesson = lesson_of(tmp_path, body)
    assert list(lesson.measures) == ["plate-2.tilt.1", "plate-2.shift.1", "plate-2.tilt.2"]
    assert [plate.numeral for plate in lesson.plates] == ["I", "II"]


def test_what_is_drawn_only_on_some_pictures_is_measured_on_those(tmp_path: Path) -> None:
    body = STRIP.format("setup, impact").replace("    as: lean\n", "    as: lean\n    only: [impact]\n")
    lesson = lesson_of(tmp_path, body)
    assert list(lesson.measures) == ["lean.impact"]
    assert [len(panel.drawn) for panel in lesson.plates[0].panels] == [0, 1]


def test_a_figure_of_which_one_picture_cannot_be_shown_is_left_out_whole(tmp_path: Path) -> None:
    told = told_of(tmp_path, "See {lean.setup}.\n\n" + STRIP.format("setup, 400"))
    assert told.splitlines()[0].endswith("`400` is frame 400, and the clip dune has frames 0 to 299; choose "
                                         "an instant within the clip")  # fmt: skip
    assert len([line for line in told.splitlines() if line.startswith("lessons/")]) == 1


@pytest.mark.parametrize("clip", ["", "clip: dune\n"])
def test_names_in_a_figure_that_cannot_be_read_are_held_against_its_clip(clip: str, tmp_path: Path) -> None:
    """Besides the mistake in its own keys; the clip is the figure's own or the lesson's."""
    body = f"```frame\natt: top\n{clip}draw:\n  - vertical: navle\n```\n"
    told = [line for line in told_of(tmp_path, body).splitlines() if line.startswith("lessons/")]
    assert len(told) == 2
    assert "there is no key `att` here" in told[0]
    assert "the clip dune has no mark `navle`" in told[1]


def test_one_line_of_a_lesson_has_one_letter_on_all_its_plates(tmp_path: Path) -> None:
    frame = "```frame\nat: {}\ndraw:\n  - tilt: [navel, c7]\n{}```\n\n"
    first, second = lesson_of(
        tmp_path, frame.format("setup", "") + frame.format("impact", "  - shift: navel\n")
    ).plates
    assert [one.letter for one in first.panels[0].drawn] == ["A"]
    assert [one.letter for one in second.panels[0].drawn] == ["A", "B"]
