"""Which files of the site may be touched: those inside its folder, by their own names and through no link."""

from __future__ import annotations

from pathlib import Path

from lessonpress.desk.http.responses import RequestError
from lessonpress.manuscript import FILE_NAME, LONGEST_FILE_NAME

LONGEST_ADDRESS = 1000  # characters of a path below a folder; a site's own stay far below


def inside(root: Path, *parts: str) -> Path:
    """SITE/part/part…, which need not exist. Raises RequestError for links and for no plain name.

    Every part is one name: no separators, no `.` or `..`, nothing hidden. root: resolved.
    """
    for part in parts:
        if not FILE_NAME.fullmatch(part) or len(part) > LONGEST_FILE_NAME:
            raise RequestError(404, f"`{_shown(part)}` is not a file's name here", "name it without a path")
    file = root.joinpath(*parts)
    if file.resolve() != file:
        raise RequestError(
            403,
            f"{'/'.join(parts)} is or lies behind a link, which may lead out of the site",
            "put the file itself there",
        )
    return file


def clip_folder(root: Path, name: str) -> Path:
    """The folder of a clip that is there. Raises RequestError."""
    folder = inside(root, "clips", name)
    if not folder.is_dir():
        raise RequestError(404, f"there is no clip `{name}`", "clips are folders of clips/")
    return folder


def lesson_file(root: Path, name: str) -> Path:
    """A lesson's file, there or not. Raises RequestError."""
    return inside(root, "lessons", f"{name}.md")


def served(folder: Path, path: str) -> Path | None:
    """The file under `folder` at a path of an address, None where there is none inside it."""
    parts = [part for part in path.split("/") if part]
    if any(part.startswith(".") or "\\" in part or "\0" in part for part in parts):
        return None
    if any(len(part.encode()) > LONGEST_FILE_NAME for part in parts) or len(path) > LONGEST_ADDRESS:
        return None
    file = folder.resolve().joinpath(*parts)
    if path.endswith("/") or not parts:
        file /= "index.html"
    return file if file.is_file() and file.resolve() == file else None


def _shown(part: str) -> str:
    return part[:60].encode("ascii", "replace").decode()
