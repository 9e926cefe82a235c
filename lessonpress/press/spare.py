"""A spare of a large pressed folder: the same files, linked, in a hidden folder beside it.

To link tens of thousands of files anew for each press takes longer than all else that a changed word asks
for. So the next press takes the spare, changes in it what is to be other, and lets both folders trade places;
what was published before is then changed in the same way, and is the spare of the press after. It holds what
is published and nothing else, so that nothing withdrawn is left in it.

A spare is believed only where each of its files is the very one that is published: the same inode. While it
is worked on it has the name of a folder that is being pressed, so that what a killed press leaves is cleared.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from lessonpress.press.steps.last import Standing, inodes

WORTH_IT = 4000  # files; to link and remove so many takes a tenth of a second


@dataclass(frozen=True)
class Changes:
    """What a press changes in a folder. removed: paths of files that go; written: of those new or another."""

    removed: tuple[str, ...]
    written: tuple[str, ...]


class Left(NamedTuple):
    """What the last press left: the state of each file, and the SHA-256 of all but its receipt, by path."""

    standing: Standing
    hashes: Mapping[str, str]


@dataclass
class Spare:
    """Of the folder `target`.

    left: what the last press left there, where all of it is as it was and nothing else is there.
    changes: what the present press changes in the spare that it took; None where it builds a folder anew.
    """

    target: Path
    left: Left | None
    changes: Changes | None = None

    @property
    def path(self) -> Path:
        return self.target.with_name(f".{self.target.name}.spare")

    def taken(self, aside: Path) -> bool:
        """Calls the spare `aside` where it is as the folder is, to be changed; a spare that is not goes."""
        if self.path.is_symlink() or not self.path.is_dir():
            return False
        if self.left is None or not _has_the_files_of(self.left, self.path):
            shutil.rmtree(self.path, ignore_errors=True)
            return False
        self.path.rename(aside)
        self.changes = Changes((), ())
        return True

    def untouched(self) -> bool:
        """Whether the folder, which was as the last press left it, still has those files and no others.

        One that was written into since is linked to the new folder too, and seen by the next press.
        """
        if self.left is not None and not _has_the_files_of(self.left, self.target):
            self.left = None
        return self.left is not None

    def keep(self, old: Path) -> None:
        """Makes the spare of the new folder. old: the one whose place it took, there or not; it goes.

        Without a spare, where the folder is small or its disk links no files, the next press builds anew.
        """
        try:
            if self.left is None or self.changes is None:
                shutil.rmtree(old, ignore_errors=True)
                if not _is_large(self.target):
                    return
                _link_all(self.target, old)
            else:
                remove(old, self.changes.removed)
                _link(self.target, old, self.changes.written)
            old.rename(self.path)
        except OSError:
            return
        finally:
            shutil.rmtree(old, ignore_errors=True)


def _has_the_files_of(left: Left, folder: Path) -> bool:
    """Whether a folder has the very files that were left, and no others."""
    return inodes(folder) == {path: inode for path, (_, _, inode) in left.standing.items()}


def _is_large(folder: Path) -> bool:
    return sum(len(names) for _, _, names in os.walk(folder)) >= WORTH_IT


def remove(folder: Path, paths: Iterable[str]) -> None:
    """Takes files away, and folders that are empty then."""
    emptied = set()
    for path in paths:
        (folder / path).unlink()
        emptied.add(path.rpartition("/")[0])
    for at in emptied:
        while at:
            with suppress(OSError):  # not empty
                (folder / at).rmdir()
            at = at.rpartition("/")[0]


def _link(of: Path, folder: Path, paths: Iterable[str]) -> None:
    """Puts files of one folder into another that may have others of the same paths."""
    for path in paths:
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).unlink(missing_ok=True)
        os.link(of / path, folder / path)


def _link_all(of: Path, folder: Path) -> None:
    folder.mkdir()
    for at, folders, names in os.walk(of):
        to = f"{folder}{at.removeprefix(str(of))}"
        for name in folders:
            Path(to, name).mkdir()
        for name in names:
            os.link(f"{at}/{name}", f"{to}/{name}")
