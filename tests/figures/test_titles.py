"""Words that are made of a clip call it by its card's title, or by its folder's name without one."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.figures.drawn import CARD, SCALE, lesson_of

PAIR = "```pair\nid: two\nof: [{at: setup}, {at: impact}]\ndraw:\n  - tilt: [navel, c7]\n```\n"


@pytest.mark.parametrize(
    ("card", "called"),
    [(CARD + SCALE, "dune"), (f"title: Dune, face-on, 7-iron\n{CARD}{SCALE}", "Dune, face-on, 7-iron")],
)
def test_plates_and_their_words_call_a_clip_by_its_title(tmp_path: Path, card: str, called: str) -> None:
    lesson = lesson_of(tmp_path, PAIR, card=card)
    [plate] = lesson.plates
    assert [panel.title for panel in plate.panels] == [called, called]
    assert {panel.clip for panel in plate.panels} == {"dune"}
    assert plate.alt == f"Two swings at one scale: {called} (setup) and {called} (impact)."
    assert f"frame 12 of “{called}”" in plate.description
    assert lesson.titles == {"dune": called}
