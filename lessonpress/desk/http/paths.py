"""Which files of the site may be touched: those inside its folder, by their own names and through no link."""

from __future__ import annotations

from pathlib import Path

from lessonpress.desk.http.answers import RefusedError
from lessonpress.manuscript import FILE_NAME, LONGEST_FILE_NAME

LONGEST_ADDRESS = 1000  # characters of a path below a folder; a site's own stay far below


def inside(root: Path, *parts: str) -> Path:
    """SITE/part/part…, which need not exist. Raises RefusedError for links and for no plain name.

    Every part is one name: no separators, no `.` or `..`, nothing hidden. root: resolved.
    """
    for part in parts:
        if not FILE_NAME.fullmatch(part) or len(part) > LONGEST_FILE_NAME:
            raise RefusedError(404, f"`{_shown(part)}` is not a file's name here", "name it without a path")
    place = root.joinpath(*parts)
    if place.resolve() != place:
        raise RefusedError(
            403,
            f"{'/'.join(parts)} is or lies behind a link, which may lead out of the site",
            "put the file itself there",
        )
    return place


def clip_folder(root: Path, name: str) -> Path:
    """The folder of a clip that is there. Raises RefusedError."""
    folder = inside(root, "clips", name)
    if not folder.is_dir():
        raise RefusedError(404, f"there is no clip `{name}`", "clips are folders of clips/")
    return folder


def lesson_file(root: Path, name: str) -> Path:
    """A lesson's file, there or not. Raises RefusedError."""
    return inside(root, "lessons", f"{name}.md")


def served(folder: Path, path: str) -> Path | None:
    """The file under `folder` at a path of an address, None where there is none inside it."""
    parts = [part for part in path.split("/") if part]
    if any(part.startswith(".") or "\\" in part or "\0" in part for part in parts):
        return None
    if any(len(part.encode()) > LONGEST_FILE_NAME for part in parts) or len(path) > LONGEST_ADDRESS:
        return None
    place = folder.resolve().joinpath(*parts)
    if path.endswith("/") or not parts:
        place /= "index.html"
    return place if place.is_file() and place.resolve() == place else None


def _shown(part: str) -> str:
    return part[:60].encode("ascii", "replace").decode()
