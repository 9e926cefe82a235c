"""Over processes the same is made as in one, and this one knows it as if it had made it itself."""

from __future__ import annotations

from pathlib import Path

import pytest

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
