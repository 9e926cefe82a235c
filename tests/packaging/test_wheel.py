"""The wheel alone is the whole program: themes, fonts, starter and networks come with it."""

from __future__ import annotations

import subprocess
import zipfile
from pathlib import Path

import pytest

from tests.packaging.matrix import ROOT, films, pythons, tried, wheel_of

PYTHONS = {name: python for name, python in pythons().items() if python is not None}  # oldest first
# The two ends of what may be installed; `python -m tests.packaging.matrix` tries every pair.
TRIED = ((min(PYTHONS), "lowest"), (max(PYTHONS), "newest"))


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return wheel_of(ROOT, tmp_path_factory.mktemp("wheel"))


def _kept(folder: str) -> set[str]:
    """Files under a folder that the repository keeps."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", folder], cwd=ROOT, check=True, capture_output=True, text=True
    )
    return set(listed.stdout.split("\0")) - {""}


def test_every_file_of_the_themes_the_starter_and_the_networks_is_in_it(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    themes = {f"lessonpress/{name}" for name in _kept("themes")}
    starter = _kept("lessonpress/starter")
    networks = _kept("lessonpress/footage/pose")
    assert len(themes) > 20 and len(starter) > 5 and len(networks) > 5
    assert themes | starter | networks <= names


def test_nothing_else_is_in_it(wheel: Path) -> None:
    """No tests, no demo, nothing pressed, and the licences of program and faces beside it."""
    names = zipfile.ZipFile(wheel).namelist()
    assert {name.split("/")[0].removesuffix("-0.1.0.dist-info") for name in names} == {"lessonpress"}
    assert not [name for name in names if "/build/" in name or "__pycache__" in name]
    licences = {Path(name).name for name in names if ".dist-info/licenses/" in name}
    assert licences == {"LICENSE", "LICENSE-networks.txt", "OFL-national-park.txt", "OFL-vollkorn.txt"}


@pytest.mark.parametrize(("name", "choice"), TRIED)
def test_installed_alone_it_presses_the_starter_opens_the_desk_and_ingests_films(
    wheel: Path, tmp_path: Path, name: str, choice: str
) -> None:
    """On the oldest Python with the lowest libraries that are allowed, on the newest with the newest."""
    work = tmp_path / "work"
    work.mkdir()
    trial = tried(PYTHONS[name], choice, wheel, films(tmp_path), work)
    assert not trial.fault, trial.fault
    assert trial.python.startswith(f"{name}.")
