"""Links from one Markdown file of a site to another, `[the hub](hub.md)`: found, and checked."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from posixpath import basename, dirname, join, normpath, relpath
from urllib.parse import unquote, urlsplit

from markdown_it.token import Token

from lessonpress.manuscript.lesson.prose import inline_pieces
from lessonpress.manuscript.text.passage import Passage
from lessonpress.records import Location, Problems, nearest


@dataclass(frozen=True)
class SourceLink:
    """A link to a Markdown file. target: that file's path in the site, as the link says it."""

    target: str
    location: Location


def target_of(source: str, href: str) -> str | None:
    """The file that a link in the file `source` leads to; None for a link that names no Markdown file.

    source, result: paths from the site's folder. A link with a scheme or a host leads out of the site.
    """
    try:
        parts = urlsplit(href)
    except ValueError:
        return None
    if parts.scheme or parts.netloc or not parts.path.endswith(".md"):
        return None
    return normpath(join(dirname(source), unquote(parts.path)))


def links_in(passage: Passage, tokens: list[Token]) -> Iterator[SourceLink]:
    """The links to Markdown files in a text that was parsed into `tokens`, in order."""
    for href, location, picture in hrefs_in(passage, tokens):
        target = None if picture else target_of(passage.path, href)
        if target is not None:
            yield SourceLink(target, location)


def hrefs_in(passage: Passage, tokens: list[Token]) -> Iterator[tuple[str, Location, bool]]:
    """Every link and picture of a text in order: its href, where it is written, whether it is a picture."""
    for piece, token in inline_pieces(passage, tokens):
        after = 0
        for child in token.children or []:
            picture = child.type == "image"
            href = str(child.attrGet("src" if picture else "href") or "")
            if not href:
                continue
            at, written = _written_at(piece.text, href, after)
            if at >= 0:
                after = at + len(written)
                yield href, piece.at(at), picture
            else:
                yield href, _defined(passage, unquote(href)) or piece.at(0), picture


def _written_at(text: str, href: str, after: int) -> tuple[int, str]:
    """Where an href is in a text, with percent signs or without; −1 where in neither way."""
    offsets = [(text.find(written, after), written) for written in (unquote(href), href)]
    return max(offsets, key=lambda one: one[0])


def _defined(passage: Passage, written: str) -> Location | None:
    """Where a link of a reference, `[the hub]`, is written out: `[the hub]: hub.md`."""
    at = passage.text.find(f"]: {written}")
    return passage.at(at + 3) if at >= 0 else None


def check_links(
    links: Iterable[SourceLink],
    sources: Collection[str],
    withheld: Mapping[str, tuple[str, str]],
    withdrawn: Collection[str],
    problems: Problems,
) -> None:
    """Report links to files that are not there, and to those that get no page yet.

    sources: the site's Markdown files. withheld: those of them that no link may lead to → why, and what would
    be right. withdrawn: files of lessons in whose place a note is. Paths from the site's folder.
    """
    for link in links:
        folder = dirname(link.location.path)
        if link.target not in sources and link.target in withdrawn:
            wrong = f"this links to {shown(link.target, folder)}, which was withdrawn"
            problems.warn(link.location, wrong, "take the link out: it leads to a note that says so")
        elif link.target not in sources:
            near = tuple(relpath(path, folder) for path in _near(link.target, sources))
            right = "" if near else "lessons are lessons/NAME.md, pages are pages/NAME.md"
            wrong = f"this links to {shown(link.target, folder)}, which is not there"
            problems.error(link.location, wrong, right, nearest=near)
        elif (why := withheld.get(link.target)) is not None and link.target != link.location.path:
            problems.error(link.location, f"this links to {shown(link.target, folder)}, {why[0]}", why[1])


def _near(target: str, sources: Collection[str]) -> Iterator[str]:
    """The files with the nearest names, in whichever folder they lie."""
    for name in nearest(_stem(target), {_stem(path) for path in sources}):
        yield from sorted(path for path in sources if _stem(path) == name)


def _stem(path: str) -> str:
    return basename(path).removesuffix(".md")


def shown(target: str, folder: str) -> str:
    """A target as it would be linked to from a folder, in backquotes."""
    return f"`{target if target.startswith('/') else relpath(target, folder)}`"
