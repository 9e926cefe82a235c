"""Alt texts say what a picture is for in a breath, and descriptions say everything."""

from __future__ import annotations

from dataclasses import replace

from lessonpress.figures.words.described import LONGEST_ALT, alt, description, loop_alt, pair_alt, strip_alt
from tests.drawing import sample
from tests.pages.factory import measure

LINE = replace(sample.vertical("A", (300.0, 400.0)), sentence="A line drops from the navel")
SHIFT = replace(
    sample.shift("B", (300.0, 400.0), (340.0, 400.0)), sentence="The navel goes 4 in", measure=measure()
)
WHEN = "at the top of the backswing"


def test_numbers_come_before_bare_lines() -> None:
    told = alt("face-on", WHEN, [LINE, SHIFT])
    assert told == f"Face-on {WHEN}. The navel goes 4 in. A line drops from the navel."


def test_what_is_not_shown_is_not_told() -> None:
    hidden = replace(SHIFT, shown=False)
    assert alt("face-on", WHEN, [LINE, hidden]) == f"Face-on {WHEN}. A line drops from the navel."
    assert "4 in" not in description("face-on", WHEN, "Dune", 96, 0.4, [LINE, hidden])


def test_an_alt_text_takes_whole_sentences_up_to_its_length() -> None:
    """A sentence that does not fit is left out, and a shorter one after it is not."""
    head = alt("face-on", WHEN, [])
    fits = replace(LINE, sentence="a" * (LONGEST_ALT - len(head) - 2))
    assert alt("face-on", WHEN, [fits]) == f"{head} {fits.sentence}."
    assert (
        alt("face-on", WHEN, [replace(LINE, sentence=f"{fits.sentence}a"), LINE])
        == f"{head} {LINE.sentence}."
    )


def test_a_description_says_frame_and_time_and_each_line_behind_its_letter_once() -> None:
    told = description("face-on", WHEN, "Dune", 96, 0.4, [LINE, SHIFT, LINE, replace(LINE, letter="")])
    assert told.split("\n") == [
        f"Face-on {WHEN}: frame 96 of “Dune”, 0.40 s after its first picture.",
        "A: A line drops from the navel.",
        "B: The navel goes 4 in.",
        "A line drops from the navel.",
    ]


def test_a_long_strip_is_cut_between_words() -> None:
    told = strip_alt("face-on", [f"Frame {number}" for number in range(60)])
    assert told.startswith("60 pictures of one swing, face-on: frame 0, frame 1,")
    assert len(told) <= LONGEST_ALT and told.endswith("…") and not told.endswith(",…")
    assert strip_alt("face-on", ["Setup", "Top"]) == "2 pictures of one swing, face-on: setup, top."


def test_a_pair_and_a_loop_are_described_as_a_whole() -> None:
    assert pair_alt(["Dune", "Shingle"], ["Setup", "Impact"]) == (
        "Two swings at one scale: Dune (setup) and Shingle (impact)."
    )
    assert loop_alt("down-the-line", "Top", "Impact", 4.0) == (
        "A moving picture, down the line, from top to impact, 4 times slower than life."
    )
