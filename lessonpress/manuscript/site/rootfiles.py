"""The files of `root/`: what a host wants beside the pages, put at the root of the site as they are.

A domain file, a file that proves whose the site is, headers, an icon. What the press writes by itself, and
what lessons once were called, is not theirs to take.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from lessonpress.manuscript.lesson.filelinks import LARGEST
from lessonpress.manuscript.lesson.lesson import Lesson
from lessonpress.manuscript.lesson.lessonchecks import OWN
from lessonpress.manuscript.site.formerpath import as_one_file, file_at
from lessonpress.manuscript.text.files import fault_of_file, printable
from lessonpress.records import Location, Problems

ROOT_FOLDER = "root"
ICONS = ("favicon.svg", "favicon.png", "favicon.ico")  # the first there is goes into the heads of pages
OF_THE_SYSTEM = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})  # put into folders that are looked at
_HISTORIES = frozenset({".git", ".hg", ".svn", ".bzr", ".jj", "CVS"})
_NAME = re.compile(r"[\w.~@+=,()!' -]{1,200}")  # what every host and every disk can call a file
_OURS = OWN | {"lessons"}


def root_files(root: Path) -> tuple[str, ...]:
    """Paths from `root/` of all that lies in it, in order: files, and links of every kind."""
    return tuple(sorted(_files_in(root / ROOT_FOLDER, "")))


def _files_in(folder: Path, at: str) -> Iterator[str]:
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.is_dir(follow_symlinks=False) and entry.name not in _HISTORIES:
                    yield from _files_in(Path(entry.path), f"{at}{entry.name}/")
                elif entry.name not in OF_THE_SYSTEM:
                    yield at + entry.name
    except FileNotFoundError:
        return


def check_root_files(
    root: Path, paths: Iterable[str], lessons: Iterable[Lesson], problems: Problems
) -> tuple[str, ...]:
    """Those of the files that are put out; what is wrong with the others is reported."""
    taken = {
        as_one_file(file_at(path)): lesson.path for lesson in lessons for path in lesson.former
    }  # by the file that is there
    good = []
    for path in paths:
        wrong = _wrong(root, path, taken)
        if wrong is None:
            taken[as_one_file(path)] = f"{ROOT_FOLDER}/{path}"
            good.append(path)
        else:
            problems.error(Location(printable(f"{ROOT_FOLDER}/{path}")), *wrong)
    return tuple(good)


def _wrong(root: Path, path: str, taken: dict[str, str]) -> tuple[str, str] | None:
    """What is wrong with one, and what would be right."""
    name, key = path.rpartition("/")[2], as_one_file(path)
    if name in _HISTORIES:
        return "this is a history of version control, which is not published", "move it elsewhere"
    if not all(_NAME.fullmatch(part) for part in path.split("/")):
        return "many hosts and disks cannot call a file so", "name it with letters, digits, hyphens and dots"
    first = key.partition("/")[0]
    if first in _OURS:
        return f"`{path}` lies where the press puts files of its own, `{first}`", "give it another name"
    for other, whose in taken.items():
        if key == other or key.startswith(f"{other}/") or other.startswith(f"{key}/"):
            return f"`{path}` is in the way of {whose}", "one file has one path, whatever its capital letters"
    fault = fault_of_file(root, root / ROOT_FOLDER / path)
    if fault is not None:
        return f"this {fault[0]}", fault[1]
    if (root / ROOT_FOLDER / path).stat().st_size > LARGEST:
        return f"this is larger than {LARGEST // 1_000_000} MB", "put it at the host by itself"
    return None
