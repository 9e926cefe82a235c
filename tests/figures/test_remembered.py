"""A line shown later where it was dropped is the same line, with the same letter."""

from __future__ import annotations

from pathlib import Path

from tests.figures.drawn import lesson_of

FRAME = "```frame\nat: {at}\ndraw:\n{draw}```\n\n"
SETUP_AND_LATER = FRAME.format(
    at="setup", draw="  - vertical: navel\n    label: planted until the end\n"
) + FRAME.format(
    at="top", draw="  - shift: navel\n  - {vertical: navel, placed: setup, label: planted until the end}\n"
)


def test_a_line_dropped_at_setup_keeps_its_letter_on_later_plates(tmp_path: Path) -> None:
    """Live at setup and remembered at the top it is A, drawn as remembered there and in the key."""
    setup, top = lesson_of(tmp_path, SETUP_AND_LATER).plates
    assert [one.letter for one in setup.panels[0].drawn] == ["A"]
    assert [(one.kind, one.letter, one.standing) for one in top.panels[0].drawn] == [
        ("shift", "B", False),
        ("vertical", "A", True),
    ]
    assert [(key.letters, key.blank) for key in top.keys] == [(("B",), False), (("A",), True)]


def test_it_has_that_letter_also_where_the_later_picture_comes_first(tmp_path: Path) -> None:
    """The order of the plates does not matter; the frame may be named by its number."""
    later = FRAME.format(at="top", draw="  - {vertical: navel, placed: 12}\n")
    top, setup = lesson_of(tmp_path, later + FRAME.format(at="setup", draw="  - vertical: navel\n")).plates
    assert top.panels[0].drawn[0].letter == setup.panels[0].drawn[0].letter == "A"


def test_a_line_that_goes_with_its_mark_is_another(tmp_path: Path) -> None:
    """Where the live line is drawn at the top too, its letter means where the navel is now."""
    both = FRAME.format(at="top", draw="  - vertical: navel\n  - {vertical: navel, placed: setup}\n")
    setup, top = lesson_of(tmp_path, FRAME.format(at="setup", draw="  - vertical: navel\n") + both).plates
    assert setup.panels[0].drawn[0].letter == "A"
    assert [one.letter for one in top.panels[0].drawn] == ["A", "B"]


def test_the_authors_label_is_in_the_key(tmp_path: Path) -> None:
    """A narrow picture has room for the letter alone, so the key says the label, with its numbers printed."""
    lean = FRAME.format(
        at="impact", draw="  - tilt: [navel, c7]\n    as: lean\n    label: back {lean:value}\n"
    )
    setup, _, impact = lesson_of(tmp_path, SETUP_AND_LATER + lean).plates
    assert setup.keys[0].words == "Vertical through the navel, “planted until the end”"
    assert impact.keys[0].words.startswith("Tilt, navel to C7, “back ")
    assert "{" not in impact.keys[0].words


def test_what_a_note_says_is_in_the_key(tmp_path: Path) -> None:
    note = FRAME.format(at="setup", draw="  - {note: navel, text: over the belt}\n")
    assert lesson_of(tmp_path, note).plates[0].keys[0].words == "Note at the navel, “over the belt”"


def test_two_notes_at_one_mark_have_a_letter_each(tmp_path: Path) -> None:
    """They say two things of one place, so each is named in the key by a letter of its own."""
    notes = "  - {note: navel, text: over the belt}\n  - {note: navel, text: and still}\n"
    plates = lesson_of(tmp_path, FRAME.format(at="setup", draw=notes)).plates
    assert [(key.letters, key.words) for key in plates[0].keys] == [
        (("A",), "Note at the navel, “over the belt”"),
        (("B",), "Note at the navel, “and still”"),
    ]
