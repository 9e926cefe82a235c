"""Kills the program with SIGKILL at random moments of its work and looks at what is left.

What is done: a press, saves of the desk, a withdrawal, a file brought back, a clip renamed. After each kill
every file of the author's and of the pressed site is byte for byte the old one or the new one, the pressed
folder is one whole press, and doing the same again ends as if nothing had happened.
"""

from __future__ import annotations

import contextlib
import errno
import os
import random
import shutil
import signal
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from lessonpress.desk.files.clipnames import rename_clip
from lessonpress.desk.files.lessonfile import save
from lessonpress.desk.http.requests import TextEdit
from lessonpress.disk import remove_unfinished
from lessonpress.intake import start_site
from lessonpress.manuscript import read_site
from lessonpress.press import restore, withdraw
from lessonpress.press.progress import Silent
from lessonpress.press.run import press

CLIP = "shingle-face-on"
LESSON = Path("lessons/first-lesson.md")
SAVES = 20

Files = dict[str, bytes]


def press_it(root: Path) -> None:
    done = press(root, root / "build/site", Silent(), workers=1)
    assert done.summary is not None, done.problems.errors


def retitled(root: Path) -> None:
    """A press of a site that is called otherwise than when it was pressed last."""
    press_it(root)


def saved(root: Path) -> None:
    """Many saves of one lesson, each another text."""
    file = root / LESSON
    for number in range(SAVES):
        before = file.read_text(encoding="utf-8")
        save(file, TextEdit(was=before, to=f"{_head(before)}\n\nSaved {number}.\n"))


def _head(text: str) -> str:
    return text.rpartition("\n\n")[0] if "\n\nSaved " in text else text.rstrip("\n")


def taken_out(root: Path) -> None:
    """A withdrawal; nothing where it is done."""
    if (root / "clips" / CLIP).exists():
        withdraw(root, CLIP, None, root / "build/site")


def brought_back(root: Path) -> None:
    restore(root, root / LESSON, 1)


def renamed(root: Path) -> None:
    """A clip renamed, with the lessons that name it; nothing where it is done."""
    site, _ = read_site(root, drafts=True)
    folder = root / "clips" / CLIP
    if site is not None and folder.exists():
        rename_clip(site, folder, folder.with_name("shingle-in-may"))


@dataclass(frozen=True)
class Work:
    """start: a site on which `does` is done. end: what it ends in. seconds: that it takes."""

    name: str
    does: Callable[[Path], None]
    start: Path
    end: Files
    seconds: float


@dataclass(frozen=True)
class Killed:
    """One kill. after: s from the beginning. wrong: what was left in a state that may not be."""

    work: str
    after: float
    wrong: tuple[str, ...]


def works(folder: Path) -> list[Work]:
    """Each work with its site, and what it ends in when it is left alone."""
    pressed = folder / "pressed"
    start_site(pressed)
    press_it(pressed)
    edited = Path(shutil.copytree(pressed, folder / "edited"))
    site = edited / "site.yaml"
    site.write_text(site.read_text(encoding="utf-8").replace("Range Notebook", "Another Notebook"))
    changed = Path(shutil.copytree(pressed, folder / "changed"))
    saved(changed)
    return [
        _work("press", retitled, edited),
        _work("saves", saved, pressed),
        _work("withdrawal", taken_out, pressed),
        _work("restore", brought_back, changed),
        _work("rename", renamed, pressed),
    ]


def _work(name: str, does: Callable[[Path], None], start: Path) -> Work:
    root = copied(start, start.parent / f"{name}-left-alone")
    began = time.monotonic()
    _forked(does, root, None)
    return Work(name, does, start, states(root), time.monotonic() - began)


def kill_at_random(every: list[Work], times: int, seed: int) -> Iterator[Killed]:
    chance = random.Random(seed)
    for number in range(times):
        work = every[number % len(every)]
        yield kill(work, chance.uniform(0, work.seconds))


def kill(work: Work, after: float) -> Killed:
    """Does the work, kills it, looks, and does it again."""
    root = copied(work.start, work.start.parent / "killed")
    before = states(root)
    _forked(work.does, root, after)
    wrong = list(left_wrong(before, work.end, states(root)))
    work.does(root)
    wrong += [f"done again, {path} differs" for path in _differing(states(root), work.end)]
    for folder in (root / "lessons", root / "build/cache/unfinished"):  # as the desk and a press begin
        remove_unfinished(folder)
    wrong += [f"{path} was left" for path in map(str, root.rglob("*.saving"))]
    return Killed(work.name, after, tuple(wrong))


def on_full_disk(work: Work, disk: Path) -> list[str]:
    """Does the work on a disk without room, then again with room; what was left that may not be.

    disk: an empty one, small, of its own.
    """
    root = copied(work.start, disk / "notebook")
    before = states(root)
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while file.write(b"\0" * 4096):
            pass
    try:
        work.does(root)
        wrong = ["the disk was not full"]
    except OSError as error:
        wrong = [] if error.errno == errno.ENOSPC else [f"another fault: {error}"]
    wrong += left_wrong(before, work.end, states(root))
    filler.unlink()
    work.does(root)
    return wrong + [f"done again, {path} differs" for path in _differing(states(root), work.end)]


def copied(start: Path, target: Path) -> Path:
    shutil.rmtree(target, ignore_errors=True)
    return Path(shutil.copytree(start, target, symlinks=True))


def _forked(does: Callable[[Path], None], root: Path, after: float | None) -> None:
    """Does it in a process of its own, which is killed after some seconds."""
    child = os.fork()
    if child == 0:
        try:
            does(root)
            os._exit(0)
        finally:
            os._exit(1)
    if after is not None:
        time.sleep(after)
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status):
        raise AssertionError(f"{does.__name__} failed by itself")


def states(root: Path) -> Files:
    """Every file of the author's and of the pressed site, where it is and what it holds."""
    return {
        path: file.read_bytes()
        for file in sorted(root.rglob("*"))
        if file.is_file()
        for path in [file.relative_to(root).as_posix()]
        if _counts(path)
    }


def _counts(path: str) -> bool:
    """The cache is not believed anyway; what a press works aside is hidden and goes with the next."""
    ours = path.startswith("build/") and not path.startswith("build/site/")
    return not ours and not path.rpartition("/")[2].startswith(".")


def left_wrong(before: Files, after: Files, now: Files) -> Iterator[str]:
    """What is in no state that may be: of a file, and of the pressed site as a whole."""
    saved_texts = (before.get(str(LESSON), b""), after.get(str(LESSON), b""))
    for path, content in now.items():
        if path == str(LESSON) and _is_a_saved_text(content, saved_texts):
            continue
        if content not in (before.get(path), after.get(path)):
            yield f"{path} is neither the old file nor the new one"
    for path in before.keys() & after.keys() - now.keys():
        yield f"{path} is gone"
    for path in before.keys() - after.keys() - now.keys():
        if not any(content == before[path] for content in now.values()):
            yield f"{path} is gone and in no other place"
    site = [_site(files) for files in (now, before, after)]
    if site[0] not in site[1:]:
        yield "the pressed site is no whole press"


def _is_a_saved_text(content: bytes, ends: tuple[bytes, bytes]) -> bool:
    heads = {_head(end.decode()) for end in ends}
    said = content.decode(errors="replace")
    return any(said == f"{head}\n\nSaved {number}.\n" for head in heads for number in range(SAVES))


def _site(files: Files) -> Files:
    return {path: content for path, content in files.items() if path.startswith("build/site/")}


def _differing(one: Files, other: Files) -> list[str]:
    return sorted(path for path in one.keys() | other.keys() if one.get(path) != other.get(path))
