"""The wheel alone is the whole program: themes, fonts and starter come with it."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
_RUN = "import lessonpress, sys; from lessonpress.cli import main; print(lessonpress.__file__); main()"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(folder)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (made,) = folder.glob("*.whl")
    return made


def _kept(folder: str) -> set[str]:
    """Files under a folder that the repository keeps."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", folder], cwd=ROOT, check=True, capture_output=True, text=True
    )
    return set(listed.stdout.split("\0")) - {""}


def test_every_file_of_the_themes_and_the_starter_is_in_it(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    themes = {f"lessonpress/{name}" for name in _kept("themes")}
    starter = _kept("lessonpress/starter")
    assert len(themes) > 20 and len(starter) > 5
    assert themes <= names
    assert starter <= names


def test_nothing_else_is_in_it(wheel: Path) -> None:
    """No tests, no demo, nothing pressed, and the licences of program and faces beside it."""
    names = zipfile.ZipFile(wheel).namelist()
    assert {name.split("/")[0].removesuffix("-0.1.0.dist-info") for name in names} == {"lessonpress"}
    assert not [name for name in names if "/build/" in name or "__pycache__" in name]
    licences = {Path(name).name for name in names if ".dist-info/licenses/" in name}
    assert licences == {"LICENSE", "OFL-national-park.txt", "OFL-vollkorn.txt"}


def test_installed_alone_in_an_empty_folder_it_starts_and_presses_a_site(wheel: Path, tmp_path: Path) -> None:
    """What it depends on is taken from this environment; the program itself from the wheel only."""
    installed, work = tmp_path / "installed", tmp_path / "work"
    work.mkdir()
    pip = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index", "--target"]
    subprocess.run([*pip, str(installed), str(wheel)], check=True, capture_output=True)
    for words in (["start", "notebook"], ["press", "notebook"]):
        done = subprocess.run(
            [sys.executable, "-c", _RUN, *words],
            cwd=work,
            env={**os.environ, "PYTHONPATH": str(installed)},
            capture_output=True,
            text=True,
        )
        assert done.returncode == 0, done.stderr
        assert done.stdout.startswith(str(installed))
    assert (work / "notebook" / "build" / "site" / "lessons" / "first-lesson" / "index.html").is_file()
