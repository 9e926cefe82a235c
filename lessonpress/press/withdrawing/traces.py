"""Where what is withdrawn was published or sent, and what of it lies in the site's build folder."""

from __future__ import annotations

import filecmp
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from html import escape
from pathlib import Path
from posixpath import basename
from urllib.parse import quote

from lessonpress.manuscript import CARD, PUT_AWAY
from lessonpress.pages import attached_path
from lessonpress.press.receipt import receipt_in
from lessonpress.press.saves import SHELF as SAVES
from lessonpress.press.withdrawing.reach import Reach, name_in

_TEXTS = (".html", ".xml", ".json", ".jsonl", ".csv")  # of the pressed site, what may lead to a lesson
_KINDS = (  # of a published file, by how its path ends
    (re.compile(r"^(pictures/)?files/"), "picture"),
    (re.compile(r"^lessons/[^/]+/index\.html$"), "page"),
    (re.compile(r"/card/index\.html$"), "card"),
    (re.compile(r"\.letter\.\w+$"), "picture of letters"),
    (re.compile(r"-loop\.\w+$"), "loop"),
    (re.compile(r"\.(svg|png)$"), "diagram"),
    (re.compile(r"\.webp$"), "picture"),
    (re.compile(r"\.(csv|json)$"), "data"),
)


@dataclass(frozen=True)
class Published:
    """A file of the pressed site. what: its kind, in a word or two."""

    path: str
    what: str


@dataclass(frozen=True)
class Sent:
    """A letter that was written with it, and perhaps sent. folder: in SITE/build/mail. on: when it was."""

    folder: Path
    on: date


@dataclass(frozen=True)
class Traces:
    """published: files that are of nothing else. listed: files of the site that name or lead to a lesson.

    out: the pressed folder they are in. letters: that were written with it. alike: folders of clips with the
    same video.
    named: where what an author wrote, and is not taken out, names it; path:line from the site's folder.
    """

    out: Path
    published: tuple[Published, ...]
    listed: tuple[str, ...]
    letters: tuple[Sent, ...]
    alike: tuple[str, ...]
    named: tuple[str, ...]


def traces_of(reach: Reach, root: Path, out: Path) -> Traces:
    """All that can be found of it. out: where the site was pressed, if it was."""
    published = tuple(_published(reach, out))
    listed = tuple(_listed(reach, out, {one.path for one in published}))
    letters = tuple(Sent(folder, _day_of(folder)) for folder in _letters(reach, root))
    return Traces(out, published, listed, letters, tuple(_alike(reach, root)), tuple(_named(reach, root)))


def _published(reach: Reach, out: Path) -> Iterator[Published]:
    folders = [f"pictures/{clip}" for clip in reach.clips]
    folders += [address for lesson in reach.lessons for address in lesson.addresses]
    for folder in folders:
        at = out / folder
        files = [at] if at.is_file() else sorted(path for path in at.rglob("*") if path.is_file())
        for file in files:
            path = file.relative_to(out).as_posix()
            yield Published(path, _kind(path))
    for still in reach.stills:
        files = [out / attached_path(still), *out.glob(f"{attached_path(still)}.letter.*")]
        files += sorted(out.glob(f"pictures/{attached_path(still.rpartition('.')[0])}-*.webp"))
        for path in (file.relative_to(out).as_posix() for file in files if file.is_file()):
            yield Published(path, _kind(path))


def _kind(path: str) -> str:
    return next((what for ending, what in _KINDS if ending.search(path)), "file")


def _listed(reach: Reach, out: Path, known: set[str]) -> Iterator[str]:
    if receipt_in(out) is None:
        return
    needles = _needles(reach)
    for file in sorted(out.rglob("*")):
        path = file.relative_to(out).as_posix()
        if path not in known and file.suffix in _TEXTS and file.is_file() and _has(file, needles):
            yield path


def _needles(reach: Reach) -> list[str]:
    needles = [address for lesson in reach.lessons for address in lesson.addresses]
    return (
        needles
        + [escape(lesson.title) for lesson in reach.lessons]
        + [f"pictures/{one}/" for one in reach.clips]
        + [quote(attached_path(one.rpartition(".")[0])) for one in reach.stills]
    )


def _has(file: Path, needles: Iterable[str]) -> bool:
    text = file.read_text(encoding="utf-8", errors="replace")
    return any(needle in text for needle in needles)


def _letters(reach: Reach, root: Path) -> Iterator[Path]:
    names, needles = {lesson.name for lesson in reach.lessons}, _needles(reach)
    for folder in sorted((root / "build" / "mail").glob("*")):
        written = folder / "letter.html"
        if folder.name in names or (written.is_file() and _has(written, needles)):
            yield folder


def _day_of(folder: Path) -> date:
    return datetime.fromtimestamp(folder.stat().st_mtime, UTC).date()


def _alike(reach: Reach, root: Path) -> Iterator[str]:
    """The folders of other clips that hold the very same video."""
    places = (root / "clips", root / PUT_AWAY / "clips")
    folders = [path for place in places for path in sorted(place.glob("*")) if path.is_dir()]
    concerned = {*(root / "clips" / name for name in reach.clips), *(root / path for path in reach.put_away)}
    ours = [file for folder in folders if folder in concerned for file in _videos(folder)]
    for folder in folders:
        if folder not in concerned and any(
            filecmp.cmp(one, other, shallow=False)
            for one in _videos(folder)
            for other in ours
            if one.stat().st_size == other.stat().st_size
        ):
            yield folder.relative_to(root).as_posix()


def _videos(folder: Path) -> list[Path]:
    return [
        path for path in sorted(folder.iterdir()) if path.is_file() and path.suffix not in (".yaml", ".csv")
    ]


def _named(reach: Reach, root: Path) -> Iterator[str]:
    patterns = [name_in(name) for name in (*reach.names, *map(basename, reach.stills))]
    gone = {path for moved in reach.moved for path in (moved, f"{moved}/{CARD}")}
    files = [root / "site.yaml", root / "glossary.yaml"]
    files += [path for folder in ("lessons", "pages") for path in sorted((root / folder).glob("*.md"))]
    files += [
        path for path in sorted((root / "clips").glob("*/*.yaml")) if path.parent.name not in reach.clips
    ]
    files += sorted((root / PUT_AWAY).glob("lessons/*.md")) + sorted(
        (root / PUT_AWAY).glob(f"clips/*/{CARD}")
    )
    for file in files:
        path = file.relative_to(root).as_posix()
        if path in gone or not file.is_file():
            continue
        lines = file.read_text(encoding="utf-8", errors="replace").splitlines()
        for number, line in enumerate(lines, 1):
            if any(pattern.search(line) for pattern in patterns):
                yield f"{path}:{number}"


def made_of(reach: Reach, traces: Traces, root: Path) -> list[Path]:
    """Files and folders of SITE/build that hold pictures, names or words of it and can be made again.

    The cache goes whole, but for what files were before they were saved, of which some go (`forget_saves`):
    what is left of a picture, a name or a number may lie in any of its entries.
    """
    build = root / "build"
    made = [path for path in sorted((build / "cache").glob("*")) if path.name != SAVES]
    made += [build / "proof", build / "uploads"]
    made += [one.folder for one in traces.letters]
    sheets = [re.compile(rf"{re.escape(clip)}(-\d+-to-\d+)?\.png") for clip in reach.clips]
    made += [
        path for path in (build / "sheets").glob("*.png") if any(one.fullmatch(path.name) for one in sheets)
    ]
    drawn = tuple(f"{lesson.name}." for lesson in reach.lessons)
    made += [path for path in (build / "diagrams").glob("*") if path.name.startswith(drawn or ("\0",))]
    made += [path for name in ("drafts", "as-of") if receipt_in(path := build / name) is not None]
    return [path for path in made if path.exists()]
