"""Files and pictures that lessons and pages link to, `![me](me.png)`: found, checked, and brought along."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

from markdown_it.token import Token

from lessonpress.manuscript.fields.names import FILE_NAME, plain_name
from lessonpress.manuscript.lesson.sourcelinks import hrefs_in, shown
from lessonpress.manuscript.text.passage import Passage
from lessonpress.records import Location, Problems, nearest

LARGEST = 64_000_000  # bytes of a file that comes along
PUT_AWAY = "put-away"  # the folder of clips and lessons that are put away
# what the press works with, and what no page may lead to
PRIVATE = ("clips", "build", "site.yaml", "glossary.yaml", PUT_AWAY, "withdrawn")
_MOST_SHOWN = 80  # characters of an address
_ELSEWHERE = re.compile(r"(?:https?:)?//", re.IGNORECASE)
_CARD = re.compile(r"\.[A-Za-z]+\.yaml$")
_LETTERS = re.compile(r"\.[A-Za-z]+\.letter\.(jpg|png)$")


@dataclass(frozen=True)
class FileLink:
    """target: the file's path in the site, as the link says it."""

    target: str
    location: Location


def file_of(source: str, href: str, *, picture: bool = False) -> str | None:
    """The file that a link in the file `source` leads to; None for one that leads to a page or elsewhere.

    source, result: paths from the site's folder. A link whose last part has no suffix is an address.
    """
    try:
        parts = urlsplit(href)
    except ValueError:
        return None
    path = unquote(parts.path)
    if parts.scheme or parts.netloc or path.startswith("/") or path.endswith((".md", "/")) or not path:
        return None
    target = normpath(join(dirname(source), path))
    return target if picture or PurePosixPath(target).suffix else None


def files_in(passage: Passage, tokens: list[Token]) -> Iterator[FileLink]:
    """The links to files in a text that was parsed into `tokens`, pictures among them, in order."""
    for href, location, picture in hrefs_in(passage, tokens):
        target = file_of(passage.path, href, picture=picture)
        if target is not None:
            yield FileLink(target, location)


def check_pictures(passage: Passage, tokens: list[Token], problems: Problems) -> None:
    """Report pictures that are no files of the site: no card says whose they are.

    What is fetched from elsewhere can change, go, and watch readers besides.
    """
    for href, location, picture in hrefs_in(passage, tokens):
        if picture and file_of(passage.path, href, picture=True) is None:
            problems.error(location, *_no_file(href))


def _no_file(href: str) -> tuple[str, str]:
    """What is wrong with the href of a picture that is no file, and what would be right."""
    if _ELSEWHERE.match(href):
        wrong = "this picture lies at another site, and a page fetches nothing from elsewhere"
        return wrong, "copy it into the site's folder, if you may, or link to its page"
    if href[:5].lower() == "data:":
        wrong = "this picture is written into the text, where no card can say whose it is"
        return wrong, "save it as a file of the site, with its card beside it"
    wrong = f"`{unquote(href)[:_MOST_SHOWN]}` names no picture of the site"
    return wrong, "write the picture's path from this file, such as `../pictures/bag.jpg`"


def check_files(root: Path, links: Iterable[FileLink], problems: Problems) -> tuple[str, ...]:
    """The files that come along into the site, in order; what is wrong with the others is reported."""
    good: dict[str, str] = {}
    for link in links:
        wrong = _wrong(root, link.target, dirname(link.location.path))
        other = good.get(link.target.lower(), link.target)
        if wrong is not None:
            words, right, near = wrong
            problems.error(link.location, words, right, nearest=near)
        elif other != link.target:
            words = f"`{link.target}` and `{other}` differ by capital letters only"
            problems.error(link.location, words, "rename one: many machines take them for the same")
        else:
            good[link.target.lower()] = link.target
    return tuple(sorted(good.values()))


Words = tuple[str, str, tuple[str, ...]]


def _wrong(root: Path, target: str, folder: str) -> Words | None:
    """What is wrong with a link to a file, what would be right, and near names; None where nothing is."""
    said = shown(target, folder)
    outside = (
        f"this links to {said}, which lies outside the site",
        "copy the file into the site's folder",
        (),
    )
    if target.startswith("../"):
        return outside
    try:
        real = (root / target).resolve()
        size = real.stat().st_size if real.is_file() else None
    except (OSError, ValueError):
        size = None
    if size is None:
        return f"this links to {said}, which is not there", "", _near(root, target)
    if not real.is_relative_to(root.resolve()):
        return outside
    inside = real.relative_to(root.resolve()).parts
    if PurePosixPath(target).parts[0] in PRIVATE or inside[0] in PRIVATE:
        wrong = f"this links to {said}, which the press works with and does not publish"
        return wrong, "copy it to another folder if it is meant to be published", ()
    if _CARD.search(target):
        return f"{said} is the card of a picture, which is not published", "link to the picture", ()
    if _LETTERS.search(target):
        return f"{said} is what the press calls a picture for letters", "give it another name", ()
    for part in PurePosixPath(target).parts:
        if not FILE_NAME.fullmatch(part):
            return (
                f"`{part}` cannot be part of a web address as it is",
                "name it with letters a to z, digits, hyphens and dots",
                _plain(part),
            )
    if size > LARGEST:
        return (
            f"{said} is larger than {LARGEST // 1_000_000} MB",
            "make it smaller, or link to it elsewhere",
            (),
        )
    return None


def _plain(part: str) -> tuple[str, ...]:
    path = PurePosixPath(part)
    return (plain_name(path.stem) + path.suffix.lower(),) if plain_name(path.stem) else ()


def _near(root: Path, target: str) -> tuple[str, ...]:
    """The files beside it with the nearest names."""
    try:
        names = [path.name for path in (root / target).parent.iterdir() if not path.name.startswith(".")]
    except (OSError, ValueError):
        return ()
    return nearest(PurePosixPath(target).name, names)
