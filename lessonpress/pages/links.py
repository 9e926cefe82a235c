"""Where every page and file of the site lies, and how one points to another.

Paths are relative to the output folder and name `index.html`, links are relative to the page they are on:
so a site works at a root, in a sub-folder and opened from disk.
"""

from __future__ import annotations

from dataclasses import dataclass
from posixpath import dirname, relpath
from urllib.parse import quote

from lessonpress.figures import Plate

HOME_PAGE = "index.html"
ARCHIVE_PAGE = "archive/index.html"
TOPICS_PAGE = "topics/index.html"
SETTINGS_PAGE = "settings/index.html"
GLOSSARY_PAGE = "glossary/index.html"
SEARCH_PAGE = "search/index.html"
SEARCH_INDEX = "search/records"  # the folder that a reader's browser searches
NOT_FOUND_PAGE = "404.html"
ATOM_FEED = "feed.xml"
JSON_FEED = "feed.json"
LETTER_PICTURE = ".letter."  # between the name of an author's picture and the suffix of its form for letters
ALL_MEASURES = "measures"  # of the site: .csv, .jsonl and .schema.json


def lesson_path(name: str) -> str:
    return f"lessons/{name}/index.html"


def card_path(name: str) -> str:
    """The one sheet of a lesson for the hand; name: of its folder."""
    return f"lessons/{name}/card/index.html"


def page_path(name: str) -> str:
    return f"pages/{name}/index.html"


def attached_path(path: str) -> str:
    """A file of the site that lessons or pages link to; path: from the site's folder."""
    return f"files/{path}"


def letter_picture_path(path: str, suffix: str) -> str:
    """The form of an author's picture that letters show. path: the picture's; suffix: of the form's format.

    It has the picture's whole name, since two pictures may differ by their suffixes alone.
    """
    return f"{attached_path(path)}{LETTER_PICTURE}{suffix}"


def year_path(year: int) -> str:
    """The lessons of one year of an archive that is too long for one page."""
    return f"archive/{year}/index.html"


def topic_feed_path(slug: str, suffix: str) -> str:
    """The feed of a topic's lessons; suffix: "xml" (Atom) or "json" (JSON Feed)."""
    return f"topics/{slug}/feed.{suffix}"


def topic_path(slug: str) -> str:
    return f"topics/{slug}/index.html"


def found_path(name: str) -> str:
    """The pictures that a lesson is found with; name: of its folder."""
    return f"lessons/{name}/found.json"


def measures_path(name: str, suffix: str) -> str:
    """The data of a lesson's ledger; suffix: "csv" or "json"."""
    return f"lessons/{name}/measures.{suffix}"


def diagram_path(name: str, plate: str, panel: int, panels: int, suffix: str, size: str = "") -> str:
    """The standalone picture of a panel (counted from 0) of a lesson's plate; suffix: of its format.

    A plate of one panel is called after itself; those of a strip or a pair are numbered from 1. size: the
    name of one that is made beside the plain one; the dot before it is in no plate's name.
    """
    stem = plate if panels == 1 else f"{plate}-{panel + 1}"
    return f"lessons/{name}/{stem}{size and '.'}{size}.{suffix}"


def diagram_paths(name: str, plate: Plate, suffix: str) -> tuple[str, ...]:
    """Those of all panels of a lesson's plate, or of its chart or plan, in order."""
    count = 1 if plate.drawing is not None else len(plate.panels)
    return tuple(diagram_path(name, plate.id, position, count, suffix) for position in range(count))


def loop_path(name: str, plate: str, suffix: str) -> str:
    """The moving picture of a lesson's loop, and its first picture; suffix: "mp4" or "webp"."""
    return f"lessons/{name}/{plate}-loop.{suffix}"


@dataclass(frozen=True)
class Linker:
    """Links from one page of the site.

    page: the path of the page. base: what then comes before every path: the address of the site, or where
    the page is served at any depth (the page for what is not found) the site's path on its host; else "".
    """

    page: str
    base: str = ""

    def __call__(self, path: str, fragment: str = "") -> str:
        """The href from this page to `path`, percent-encoded, with `#fragment` where one is given."""
        tail = f"#{quote(fragment, safe='/=&')}" if fragment else ""
        if path == self.page and tail:
            return tail
        if self.base:
            return f"{self.base.rstrip('/')}/{quote(path)}{tail}"
        return quote(relpath(path, dirname(self.page) or ".")) + tail
