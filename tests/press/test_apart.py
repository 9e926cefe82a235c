"""Over processes the same is made as in one, and this one knows it as if it had made it itself."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from lessonpress.press.steps import apart


def _files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def _press(root: Path, out: Path, workers: int) -> Pressed:
    pressed = press(root, out, Silent(), workers=workers)
    assert pressed.summary is not None, pressed.problems.errors
    return pressed


def test_what_two_processes_make_is_what_one_makes(
    own_site: Path, pressed_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart, "WORTH_A_POOL", 1)
    shutil.rmtree(own_site / "build")
    made = _press(own_site, tmp_path / "site", workers=2)
    assert _files(tmp_path / "site") == _files(pressed_site)
    assert {"lesson pelvis measured", "lesson kinds measured"} <= {one.product for one in made.redone}
    assert _press(own_site, tmp_path / "site", workers=1).redone == ()
    assert _press(own_site, tmp_path / "elsewhere", workers=1).redone == ()
