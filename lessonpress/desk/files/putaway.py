"""A clip or a lesson put away: moved to `SITE/put-away`, which no press reads, and taken back from there.

Nothing is deleted, and nothing of it stays in the site: what still names it keeps it where it is. A clip of
someone who takes back their consent is withdrawn instead (`lessonpress withdraw`), which finds it here too.

A lesson that was published leaves a note at its addresses, as a withdrawn one does.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from lessonpress.desk.files.clipnames import refuse_unreadable, seconds_of
from lessonpress.desk.files.mentions import lesson_mentions, names_clip
from lessonpress.desk.http.paths import inside
from lessonpress.desk.http.responses import RequestError
from lessonpress.disk import folder_to_disk
from lessonpress.manuscript import PUT_AWAY, Lesson, Page, Site, file_at
from lessonpress.press import take_out_notes, write_notes

FOLDERS = ("clips", "lessons")


def put_clip_away(site: Site, folder: Path) -> str:
    """Moves a clip out of the site; its path there. Raises RequestError where lessons or cards name it."""
    name = folder.name
    refuse_unreadable(site, name)
    named = [lesson.path for lesson in site.lessons if names_clip(lesson, name)]
    named += [clip.path for clip in seconds_of(site, name)]
    _refuse_named(f"the clip {name}", named)
    return _moved(site.root, folder, inside(site.root, PUT_AWAY, "clips", name))


def put_lesson_away(site: Site, file: Path) -> str:
    """Moves a lesson out of the site; its path there. Raises RequestError where other texts lead to it."""
    if not file.is_file():
        raise RequestError(404, f"there is no lesson `{file.stem}`", "lessons are files lessons/NAME.md")
    texts: list[Lesson | Page] = [*site.lessons, *site.pages.values()]
    own = f"lessons/{file.name}"
    named = [one.path for one in texts if one.path != own and any(link.target == own for link in one.links)]
    named += [one.path for one in site.lessons if one.path != own and lesson_mentions(one, file.stem)]
    _refuse_named(f"the lesson {file.stem}", named)
    write_notes(site.root, [(own, _published(site, file.stem))], put_away=True)
    return _moved(site.root, file, inside(site.root, PUT_AWAY, "lessons", file.name))


def take_back(root: Path, path: str) -> str:
    """Moves what was put away back; its path in the site. Raises RequestError where that is taken."""
    first, *parts = path.split("/")
    if first != PUT_AWAY or len(parts) != 2 or parts[0] not in FOLDERS:
        raise RequestError(404, "nothing is put away there", "look at the contents once more")
    there, home = inside(root, first, *parts), inside(root, *parts)
    if not there.exists():
        raise RequestError(404, f"nothing is put away at {path}", "look at the contents once more")
    if home.exists():
        raise RequestError(409, f"there is {'/'.join(parts)} again", "rename that one first")
    moved = _moved(root, there, home)
    take_out_notes(root, {moved}, put_away=True)
    return moved


def _published(site: Site, name: str) -> tuple[str, ...]:
    """The addresses at which readers may have found the lesson, that of its page first.

    A folder that was pressed says which there were; where there is none, the site was pressed elsewhere.
    """
    lesson, pressed = site.lesson(name), site.root / "build" / "site"
    if lesson is None or lesson.withheld:
        return ()
    addresses = (f"lessons/{lesson.folder}", *lesson.former)
    return tuple(one for one in addresses if not pressed.is_dir() or (pressed / file_at(one)).is_file())


def put_away_in(root: Path) -> Iterator[dict[str, Any]]:
    """What is put away, by name: its path, and what it is."""
    for folder, what in zip(FOLDERS, ("clip", "lesson"), strict=True):
        for path in sorted((root / PUT_AWAY / folder).glob("*")):
            if path.is_dir() if what == "clip" else path.suffix == ".md":
                yield {"path": path.relative_to(root).as_posix(), "what": what, "name": path.stem}


def _refuse_named(what: str, named: list[str]) -> None:
    if named:
        where = ", ".join(sorted(set(named)))
        raise RequestError(422, f"{what} is named in {where}", "take it out of there first")


def _moved(root: Path, path: Path, target: Path) -> str:
    if target.exists():
        where = target.relative_to(root).as_posix()
        raise RequestError(409, f"there is {where} already", "rename that one or this one first")
    target.parent.mkdir(parents=True, exist_ok=True)
    path.rename(target)
    folder_to_disk(target.parent)
    folder_to_disk(path.parent)
    return target.relative_to(root).as_posix()
