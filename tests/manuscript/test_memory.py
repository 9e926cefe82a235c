"""A site read again reads what changed and nothing else, and comes to what a first reading comes to."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.manuscript import read_site
from lessonpress.manuscript.text.memory import Memory
from lessonpress.records.problem import problem_text
from tests.manuscript.documents import SOUND, lay_out


@pytest.fixture
def root(tmp_path: Path) -> Path:
    lay_out(SOUND, tmp_path)
    (tmp_path / "lessons" / "other.md").write_text("---\ntitle: Other\ndate: 2026-11-23\n---\n")
    return tmp_path


def test_what_did_not_change_is_the_very_same_as_before(root: Path) -> None:
    memory = Memory()
    before, _ = read_site(root, memory=memory)
    lesson = root / "lessons" / "other.md"
    lesson.write_text(lesson.read_text() + "\nMore.\n")
    after, problems = read_site(root, memory=memory)
    assert before is not None and after is not None and problems.collected == []
    assert after.clips["dune"] is before.clips["dune"] and after.lesson("hips") is before.lesson("hips")
    other = after.lesson("other")
    assert other is not None and other.body.endswith("More.\n")


@pytest.mark.parametrize("file", ["clip.yaml", "marks.yaml", "tracks.csv"])
def test_a_mistake_is_reported_at_every_reading_and_gone_once_it_is_mended(root: Path, file: str) -> None:
    memory = Memory()
    place = root / "clips" / "dune" / file
    sound = place.read_bytes() if place.exists() else None
    place.write_text("{", encoding="utf-8")
    first = [problem_text(one) for one in read_site(root)[1].in_order()]
    again = [[problem_text(one) for one in read_site(root, memory=memory)[1].in_order()] for _ in range(2)]
    assert first and again == [first, first]
    if sound is None:
        place.unlink()
    else:
        place.write_bytes(sound)
    assert read_site(root, memory=memory)[1].collected == []
