"""Takes what is withdrawn out of a site, and back until the next press.

Nothing of the author's is deleted: clips, pictures and lessons are moved to `SITE/withdrawn/NAME`, which no
command reads. Clips and cards of pictures go last, each by one renaming, so that a withdrawal that was
stopped anywhere is gone on with by asking for it again. What the program made is emptied before that.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from lessonpress.disk import folder_to_disk, remove_unfinished
from lessonpress.manuscript import plain_name
from lessonpress.press.cache import Cache
from lessonpress.press.one_desk import only_desk
from lessonpress.press.output import only_press
from lessonpress.press.saves import forget_saves
from lessonpress.press.withdrawing.closing import still_open
from lessonpress.press.withdrawing.notes import take_out_notes, write_notes
from lessonpress.press.withdrawing.reach import Reach, reach_of
from lessonpress.press.withdrawing.traces import Traces, made_of, traces_of
from lessonpress.records import UsageError

FOLDER = "withdrawn"


@dataclass(frozen=True)
class Withdrawal:
    """What was taken out, or would be. folder: where it was moved to. emptied: what the program had made."""

    reach: Reach
    traces: Traces
    folder: Path
    emptied: tuple[Path, ...]


def withdraw(
    root: Path, what: str | None, person: str | None, out: Path, *, only_list: bool = False
) -> Withdrawal:
    """Withdraws a clip, a picture, or all of a person. out: the pressed folder that is looked through.

    what: a clip's name or a picture's path. only_list: whether nothing is to be done. Raises UsageError where
    there is no such clip, picture or person, and where a desk or a press is at work on the site; OSError
    where the disk fails.
    """
    with _alone(root):
        reach = reach_of(root, what, person)
        traces = traces_of(reach, root, out)
        emptied = tuple(made_of(reach, traces, root))
        folder = _free_folder(root, reach)
        if not only_list:
            write_notes(root, ((one.path, one.addresses) for one in reach.lessons))
            for path in reach.first:
                if (root / path).exists():  # a picture may be gone by a withdrawal that was stopped
                    _move(root / path, folder / path)
            for made in emptied:
                shutil.rmtree(made) if made.is_dir() else made.unlink()
            gone = (*(f"clips/{clip}/" for clip in reach.clips), *(one.path for one in reach.lessons))
            forget_saves(root, gone, reach.names)
            still_open(_cache(root), folder.name).keep(b"")
            for path in reach.last:
                _move(root / path, folder / path)
        return Withdrawal(reach, traces, folder, emptied)


def take_back(root: Path, name: str) -> tuple[Path, ...]:
    """Brings back what was withdrawn under a name since the last press; the files and folders.

    Raises UsageError where nothing was, where it has been pressed without it since, and where something else
    is in its place.
    """
    with _alone(root):
        folder, opened = root / FOLDER / name, still_open(_cache(root), name)
        if plain_name(name) != name or not folder.is_dir():
            raise UsageError(f"nothing was withdrawn as {name}: there is no {folder}")
        if not opened.stands():
            raise UsageError(
                f"the site was pressed without {name}; ask for consent anew, change its date on the card, "
                f"and move the files back from {folder} yourself"
            )
        files = [path for path in sorted(folder.rglob("*")) if path.is_file()]
        moved = [path for path in files if path.relative_to(folder).parts[0] != "clips"]
        moved += sorted((folder / "clips").glob("*"))
        targets = [root / path.relative_to(folder) for path in moved]
        for target in targets:
            if target.exists():
                raise UsageError(f"{target} is there again; move it elsewhere first")
        take_out_notes(root, {f"lessons/{path.name}" for path in moved if path.suffix == ".md"})
        for path, target in zip(moved, targets, strict=True):
            _move(path, target)
        shutil.rmtree(folder)
        _remove_if_empty(root / FOLDER)
        opened.path.unlink()
        return tuple(targets)


@contextmanager
def _alone(root: Path) -> Iterator[None]:
    """While no desk and no press into the usual folder is at work on the site.

    What a withdrawal that was killed left half written of its notes is cleared first.
    """
    with only_desk(root, "`lessonpress withdraw`"), only_press(root / "build" / "site"):
        remove_unfinished(root)
        yield


def _cache(root: Path) -> Cache:
    return Cache(root / "build" / "cache")


def _free_folder(root: Path, reach: Reach) -> Path:
    """Where everything can be moved to; the folder of a withdrawal that was stopped is used again."""
    name = plain_name(reach.name) or "withdrawal"
    moved = [path for path in reach.moved if (root / path).exists()]
    folders = (root / FOLDER / (name if number == 1 else f"{name}-{number}") for number in count(1))
    return next(folder for folder in folders if not any((folder / path).exists() for path in moved))


def _move(path: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    path.rename(target)
    folder_to_disk(target.parent)
    folder_to_disk(path.parent)


def _remove_if_empty(folder: Path) -> None:
    if not any(folder.iterdir()):
        folder.rmdir()
