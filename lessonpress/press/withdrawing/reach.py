"""What a withdrawal concerns: clips, pictures, and every lesson that shows one or rests on one."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from posixpath import basename

from lessonpress.footage import is_still
from lessonpress.manuscript import (
    CARD,
    PUT_AWAY,
    STILL_CARD_SUFFIX,
    Clip,
    Lesson,
    Sequence,
    Site,
    clips_named,
    read_site,
    read_still_card,
    read_text,
    still_card_of,
    text_files,
)
from lessonpress.records import Problems, UsageError, nearest

_ELSEWHERE = ("clips", "build", "withdrawn", "themes", PUT_AWAY)  # folders that hold no picture of a text


@dataclass(frozen=True)
class Reached:
    """A lesson that is withdrawn. addresses: where it may have been published, as `former_path` has them."""

    name: str
    title: str
    addresses: tuple[str, ...]

    @property
    def path(self) -> str:
        return f"lessons/{self.name}.md"


@dataclass(frozen=True)
class Reach:
    """clips: their names. lessons: each before those whose numbers it charts. person: whose it is, or "".

    stills: pictures that are withdrawn, or that show the person. put_away: clips and lessons concerned that
    were put away before. Both are paths from the site's folder.
    """

    clips: tuple[str, ...]
    lessons: tuple[Reached, ...]
    person: str = ""
    stills: tuple[str, ...] = ()
    put_away: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What it is called by: the person's name, the first clip's, or the picture's without its ending."""
        return self.person or (self.names or [basename(self.stills[0]).rpartition(".")[0]])[0]

    @property
    def moved(self) -> tuple[str, ...]:
        """The paths of all that is moved."""
        return (*self.first, *self.last)

    @property
    def first(self) -> tuple[str, ...]:
        """Lessons and pictures."""
        away = (path for path in self.put_away if path.endswith(".md"))
        return (*(lesson.path for lesson in self.lessons), *self.stills, *away)

    @property
    def last(self) -> tuple[str, ...]:
        """Cards of pictures and folders of clips: by these a withdrawal that was stopped is found again."""
        cards = map(still_card_of, self.stills)
        return (*cards, *self._clips_put_away, *(f"clips/{clip}" for clip in self.clips))

    @property
    def names(self) -> tuple[str, ...]:
        """Those of all its clips, and the person's."""
        away = map(basename, self._clips_put_away)
        return tuple(dict.fromkeys(filter(None, (*self.clips, *away, self.person))))

    @property
    def _clips_put_away(self) -> list[str]:
        return [path for path in self.put_away if not path.endswith(".md")]


def reach_of(root: Path, what: str | None, person: str | None) -> Reach:
    """What the withdrawal of a clip by its name, of a picture by its path, or of a person concerns.

    A lesson that cannot be read is concerned where its file has the name: better one too many than a picture
    left. Raises UsageError where there is no such clip, picture or person, or where site.yaml cannot be read.
    """
    site, _ = read_site(root, drafts=True)
    if site is None:
        raise UsageError("site.yaml cannot be read; `lessonpress press` says why")
    if person is not None:
        stills, away = tuple(_stills_of(person, root)), tuple(_put_away(root, "", person))
        clips = _clips_of(person, root, site, stills, away)
    else:
        away = tuple(_put_away(root, what or "", ""))
        clips, stills = _named(what or "", root, site, away)
    lessons = _shown_in(site, clips, stills, person or "")
    names = [*clips, *map(basename, stills), person or ""]
    away += tuple(_lessons_put_away(root, [*names, *map(basename, away)]))
    return Reach(tuple(clips), (*lessons, *_unreadable(root, site, names)), person or "", stills, away)


def _put_away(root: Path, clip: str, person: str) -> Iterator[str]:
    """The clips put away that are asked for by name, or on whose cards the person is."""
    for folder in sorted((root / PUT_AWAY / "clips").glob("*")):
        if folder.is_dir() and (folder.name == clip or _says(folder / CARD, [person])):
            yield folder.relative_to(root).as_posix()


def _lessons_put_away(root: Path, names: Collection[str]) -> Iterator[str]:
    """The lessons put away that have one of the names: better one too many than a picture left."""
    for file in sorted((root / PUT_AWAY / "lessons").glob("*.md")):
        if _says(file, names):
            yield file.relative_to(root).as_posix()


def _named(name: str, root: Path, site: Site, away: Collection[str]) -> tuple[list[str], tuple[str, ...]]:
    """The clip or the picture that goes by a name. away: clips of that name that were put away."""
    if name in site.clips or away:
        return [name] if name in site.clips else [], ()
    if is_still(name):
        for path in (root / name, Path.cwd() / name):
            if path in _stills(root):
                return [], (path.relative_to(root).as_posix(),)
        raise UsageError(f"there is no picture {name} with a card in {root}")
    close = nearest(name, site.clips) or sorted(site.clips)
    hint = f"; there are: {', '.join(close)}" if close else ""
    raise UsageError(f"there is no clip called {name}{hint}")


def _clips_of(
    person: str, root: Path, site: Site, stills: Collection[str], away: Collection[str]
) -> list[str]:
    """The clips on whose cards someone of this name is; those whose card cannot be read where it has it.

    stills: pictures on whose cards they are. away: clips put away on whose cards they are.
    """
    clips = [name for name, clip in site.clips.items() if _is_on(person, clip, root)]
    addressed = any(_same(person, lesson.front.addressee or "") for lesson in site.lessons)
    if clips or addressed or stills or away:
        return clips
    names = {one.name for clip in site.clips.values() if clip.card for one in clip.card.people}
    close = nearest(person, names) or sorted(names)
    hint = f"; on cards are: {', '.join(close)}" if close else ""
    raise UsageError(f"no card names anyone called {person}{hint}")


def _stills_of(person: str, root: Path) -> Iterator[str]:
    """The pictures on whose cards the person is; those whose card cannot be read where it has the name."""
    for still in _stills(root):
        file = root / still_card_of(str(still))
        passage = read_text(root, file, Problems())
        card = read_still_card(passage, date.min, Problems()) if passage else None
        if any(_same(person, one.name) for one in card.people) if card else _says(file, [person]):
            yield still.relative_to(root).as_posix()


def _stills(root: Path) -> list[Path]:
    """The author's own pictures, by their cards."""
    cards = [path.relative_to(root) for path in sorted(root.rglob(f"*{STILL_CARD_SUFFIX}"))]
    shown = [card for card in cards if card.parts[0] not in _ELSEWHERE and is_still(card.stem)]
    return [root / card.with_suffix("") for card in shown]


def _is_on(person: str, clip: Clip, root: Path) -> bool:
    if clip.card is not None:
        return any(_same(person, one.name) for one in clip.card.people)
    return _says(root / clip.path, [person])


def _same(one: str, other: str) -> bool:
    return one.split() != [] and one.casefold().split() == other.casefold().split()


def _shown_in(site: Site, clips: Collection[str], stills: Collection[str], person: str) -> Iterator[Reached]:
    """Lessons that show a clip or a picture, those for the person, and those that chart numbers of these."""
    by_name = {lesson.name: lesson for lesson in site.lessons}
    reached = dict.fromkeys(
        name
        for name, lesson in by_name.items()
        if not clips_named(lesson).isdisjoint(clips)
        or any(link.target in stills for link in lesson.files)
        or _same(person, lesson.front.addressee or "")
    )
    charts = {name: charted_by(lesson) for name, lesson in by_name.items()}
    while more := [name for name in by_name if name not in reached and not charts[name].isdisjoint(reached)]:
        reached |= dict.fromkeys(more)
    for name in reversed(reached):
        lesson = by_name[name]
        addresses = () if lesson.withheld else (f"lessons/{lesson.folder}", *lesson.former)
        yield Reached(name, lesson.title, addresses)


def charted_by(lesson: Lesson) -> frozenset[str]:
    """The lessons whose numbers a lesson charts."""
    nodes = [block.node for block in lesson.blocks if block.kind == "progress" and block.node]
    lists = [node.get("over") for node in nodes]
    return frozenset(str(name) for one in lists if isinstance(one, Sequence) for name in one.plain)


def _unreadable(root: Path, site: Site, names: Iterable[str]) -> Iterator[Reached]:
    read = {lesson.name for lesson in site.lessons}
    for path in text_files(root, "lessons", Problems()):
        if path.stem not in read and _says(path, names):
            yield Reached(path.stem, path.stem, (f"lessons/{path.stem}",))


def _says(path: Path, names: Iterable[str]) -> bool:
    try:
        text = path.read_text(encoding="utf-8", errors="replace")
    except OSError:
        return False
    return any(name_in(name).search(text) for name in names if name)


def name_in(name: str) -> re.Pattern[str]:
    """Finds a name that is not a part of a longer one."""
    return re.compile(rf"(?<![\w-]){re.escape(name)}(?![\w-])", re.IGNORECASE)
