"""What tests of steps share: the site that is edited, pressed once by one process."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest

from lessonpress.press.progress import Silent
from lessonpress.press.run import Pressed, press
from tests.press import edits


@dataclass(frozen=True)
class Edited:
    """root: the site, its cache full. out: its pressed folder. made: what the press that made it said."""

    root: Path
    out: Path
    made: Pressed


@pytest.fixture(scope="session")
def edited(tmp_path_factory: pytest.TempPathFactory) -> Edited:
    """For reading only."""
    root = tmp_path_factory.mktemp("edited") / "notebook"
    edits.make(root)
    made = press(root, root / "build" / "site", Silent(), own_themes=True, workers=1)
    assert made.summary is not None, made.problems.errors
    return Edited(root, root / "build" / "site", made)


@pytest.fixture
def unpressed(edited: Edited, tmp_path: Path) -> Path:
    """A copy that was never pressed."""
    return Path(shutil.copytree(edited.root, tmp_path / "own", ignore=shutil.ignore_patterns("build")))


def files(folder: Path) -> dict[str, bytes]:
    """By path the bytes of every file of a folder."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
