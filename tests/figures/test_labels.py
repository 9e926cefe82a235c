"""Numbers printed inside labels, and labels that no picture has room for."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.figures.words.labels import MOST_DRAWN, MOST_LETTERED, filled
from lessonpress.records import Reading
from tests.figures.drawn import lesson_of, told_of
from tests.pages.factory import measure

NAMED = {"navel-back": measure(), "hips.top": measure("hips.top", value=2.52, way="toward the target")}


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("back {navel-back:value}", "back 4.0 in"),
        ("{navel-back}", "4.0 in ± 0.6 away from the target"),
        ("{hips.top:cm}", "6.4 cm ± 1.4 toward the target"),  # an inch is 2.54 cm (exactly, 1959)
        ("{navel-back:bare} and {hips.top:bare}", "4.0 and 2.5"),
        (r"\{navel-back\}", "{navel-back}"),
        ("{navel-bak}", "{navel-bak}"),
        ("no number", "no number"),
    ],
)
def test_references_in_a_text_are_printed(written: str, printed: str) -> None:
    """Braces with a backslash are braces; a name that nothing has is reported elsewhere and stays."""
    assert filled(written, NAMED, Reading("in")) == printed


def note(text: str) -> str:
    return f"```frame\nat: setup\ndraw:\n  - note: navel\n    text: {text}\n```\n"


def test_the_longest_text_that_a_phone_has_room_for_is_no_mistake(tmp_path: Path) -> None:
    assert told_of(tmp_path, note("a" * MOST_LETTERED)) == ""


def test_a_longer_one_is_warned_of_at_its_place(tmp_path: Path) -> None:
    told = told_of(tmp_path, note("a" * (MOST_LETTERED + 1)))
    assert told.startswith("lessons/lesson.md:10:11: warning: this text of 41 characters is too long")


def test_one_that_no_picture_has_room_for_is_an_error(tmp_path: Path) -> None:
    told = told_of(tmp_path, note("a" * (MOST_DRAWN + 1)))
    assert told.startswith("lessons/lesson.md:10:11: this text of 401 characters is longer than any picture")


def test_a_number_in_a_label_counts_as_printed_and_a_brace_as_one_character(tmp_path: Path) -> None:
    """The reference is longer than what is printed for it."""
    lean = "```frame\nat: impact\ndraw:\n  - tilt: [navel, c7]\n    as: lean-at-impact\n    label: "
    fits = "a" * (MOST_LETTERED - 9) + r" {lean-at-impact:value}"
    assert told_of(tmp_path / "fits", f"{lean}'{fits}'\n```\n") == ""
    braces = r"\{" * MOST_LETTERED
    assert told_of(tmp_path / "braces", f"{lean}'{braces}'\n```\n") == ""


def test_alt_text_and_tag_and_key_say_the_same_number(tmp_path: Path) -> None:
    body = (
        "```frame\nid: hit\nat: impact\nalt: Leaning {lean:value}.\ndraw:\n"
        "  - tilt: [navel, c7]\n    as: lean\n    label: by {lean:value}\n```\n"
    )
    (plate,) = lesson_of(tmp_path, body).plates
    number = plate.alt.removeprefix("Leaning ").removesuffix(".")
    assert number.endswith("°")
    (drawn,) = plate.panels[0].drawn
    words = [shape.words for shape in drawn.shapes if hasattr(shape, "words") and shape.words]
    assert words == [f"by {number}"]
    assert plate.keys[0].words == f"{drawn.name}, “by {number}”"
