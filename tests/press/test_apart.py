"""Over processes the same is made as in one, and this one knows it as if it had made it itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonpress.press.parallel import Inline
from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from lessonpress.press.steps import apart
from lessonpress.press.steps.uses import Key
from lessonpress.press.steps.works import Works
from tests.press.conftest import Edited, files


@pytest.mark.parametrize("workers", [2, 4])
def test_what_processes_make_is_what_one_makes_and_is_made_once(
    edited: Edited, unpressed: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, workers: int
) -> None:
    made_here: list[Key] = []
    make = Works._make

    def counted(works: Works, key: Key, because: Key) -> str:
        made_here.append(key)
        return make(works, key, because)

    monkeypatch.setattr(apart, "WORTH_A_POOL", 1)
    monkeypatch.setattr(Works, "_make", counted)
    made = press(unpressed, tmp_path / "site", Silent(), own_themes=True, workers=workers)
    assert made.summary is not None
    assert files(tmp_path / "site") == files(edited.out)
    assert sorted(made.redone) == sorted(edited.made.redone)
    assert len(made_here) == len(set(made_here))
    assert {"measured", "plausible"}.isdisjoint(step for step, _, _ in made_here)
    made_here.clear()
    assert press(unpressed, tmp_path / "else", Silent(), own_themes=True, workers=1).redone == ()
    assert made_here == []


def test_few_lessons_of_words_alone_are_worth_no_processes_and_few_with_pictures_are(
    unpressed: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each process loads the program anew, which takes as long as some thirty such pages."""
    asked: list[int] = []
    monkeypatch.setattr(apart, "executor_for", lambda jobs: (asked.append(jobs), Inline())[1])
    for name in ("one", "two", "three"):
        lesson = unpressed / "lessons" / f"{name}.md"
        drawn = lesson.read_text(encoding="utf-8")
        lesson.write_text(drawn.split("\n```frame")[0] + "\n", encoding="utf-8")
    (unpressed / "lessons" / "months.md").unlink()
    assert press(unpressed, tmp_path / "words", Silent(), own_themes=True).summary is not None
    assert max(asked) <= 1
    for name in ("one", "two", "three"):
        (unpressed / "lessons" / f"{name}.md").write_text(drawn, encoding="utf-8")
    assert press(unpressed, tmp_path / "drawn", Silent(), own_themes=True).summary is not None
    assert max(asked) > 1
