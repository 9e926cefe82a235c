"""Each drill of the demo comes after a caution of its own lesson: when to stop, and whom it may hit.

What has to be said is common practice among teachers, without a published source.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from lessonpress.manuscript.lesson.lesson import Lesson, read_lesson
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.records import Problems

LESSONS = Path(__file__).parents[2] / "content" / "lessons"
STARTER = Path(__file__).parents[2] / "lessonpress" / "starter" / "lessons"
WITH_A_CLUB = re.compile(r"\b(?:with a (?:ball|club)|at half (?:pace|speed)|swing)\b", re.IGNORECASE)
ROOM = re.compile(r"\bno one\b|\bpeople\b|\bout of reach\b|space round you", re.IGNORECASE)
BODY = re.compile(r"\bclinician\b|\bstop\b|\bwait until\b", re.IGNORECASE)
HARD_AND_LONG = re.compile(r"\b(?:alignment stick|cane|rod|pole|pipe)\b", re.IGNORECASE)


def read(path: Path) -> Lesson:
    lesson = read_lesson(path.stem, file_passage(f"lessons/{path.name}", path.read_text("utf-8")), Problems())
    assert lesson is not None
    return lesson


WITH_DRILLS = [
    path
    for folder in (LESSONS, STARTER)
    for path in sorted(folder.glob("*.md"))
    if not path.name.startswith("handbook-") and "```drill" in path.read_text("utf-8")
]


@pytest.mark.parametrize("path", WITH_DRILLS, ids=lambda path: path.stem)
def test_a_drill_comes_after_a_caution_that_knows_it(path: Path) -> None:
    blocks = read(path).blocks
    drills = [block for block in blocks if block.kind == "drill"]
    cautions = [block for block in blocks if block.kind == "caution"]
    assert cautions and cautions[0].line < drills[0].line
    said = " ".join(block.text for block in cautions if block.line < drills[0].line)
    assert BODY.search(said)
    for drill in drills:
        assert ROOM.search(said) or not WITH_A_CLUB.search(drill.text), "whom may it hit?"
        assert not HARD_AND_LONG.search(drill.text), "what is struck or let go is to be soft or blunt"


def test_the_demo_has_drills_to_be_held_to_this() -> None:
    assert len(WITH_DRILLS) >= 10
