"""Lays out the starter site, a small one that presses at once."""

from __future__ import annotations

import shutil
from importlib.resources import as_file, files
from pathlib import Path

from lessonpress.records import UsageError


def start_site(folder: Path) -> None:
    """Copies the starter into `folder`. Raises UsageError, touching nothing, unless it is absent or empty."""
    if folder.exists() and not folder.is_dir():
        raise UsageError(f"{folder} is a file; give a folder that is absent or empty")
    if folder.is_dir() and any(folder.iterdir()):
        raise UsageError(
            f"{folder} is not empty and nothing in it is overwritten; give a folder that is absent or empty"
        )
    with as_file(files("lessonpress") / "starter") as starter:
        try:
            shutil.copytree(starter, folder, dirs_exist_ok=True, copy_function=shutil.copyfile)
        except NotADirectoryError as error:
            raise UsageError(f"{folder} leads through a file that is no folder; give another") from error
