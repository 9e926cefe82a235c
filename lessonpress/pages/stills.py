"""An author's own pictures, `![a bag on a beam](bag.jpg)`, as pages, feeds and letters print them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from markupsafe import Markup, escape

from lessonpress.figures import Credit
from lessonpress.manuscript import file_of
from lessonpress.pages.links import Linker
from lessonpress.pages.pictures import Picture

STILL_WIDTHS = (480, 800, 1280)  # px of the files of one, as plates have them
CLASS = "own-picture"  # of the `img`
_COLUMN = 640  # CSS px that text is wide at the most
_IN_LETTER = 480  # CSS px that plates are wide in a letter at the most
LETTER_WIDTH = 2 * _IN_LETTER  # px of the file that letters and feeds show, for dense screens


@dataclass(frozen=True)
class Still:
    """A picture as it was taken in. files: what a page shows, narrowest first; a drawing has itself alone.

    plain: the one for letters and feeds, in a format that mail programs show. credit: whose it is.
    """

    files: tuple[Picture, ...]
    plain: Picture
    credit: Credit


@dataclass(frozen=True)
class PrintedPicture:
    """attributes: of its `img`, but for the alt text. credit: what is printed after it."""

    attributes: Mapping[str, str]
    credit: Markup


Printing = Callable[[str], PrintedPicture | None]  # a picture's address as written → None for no own picture


def on_page(source: str, link: Linker, stills: Mapping[str, Still]) -> Printing:
    """How the text of the file `source` shows the author's pictures on the page of `link`."""

    def printed(written: str) -> PrintedPicture | None:
        still = _named(source, written, stills)
        if still is None:
            return None
        largest = still.files[-1]
        attributes = {"class": CLASS, "src": link(largest.href)}
        if len(still.files) > 1:
            shown = min(_COLUMN, largest.width)
            attributes["srcset"] = ", ".join(f"{link(one.href)} {one.width}w" for one in still.files)
            attributes["sizes"] = f"(min-width: 700px) {shown}px, 100vw"
        attributes |= {"width": str(largest.width), "height": str(largest.height)}
        attributes |= {"loading": "lazy", "decoding": "async"}
        return PrintedPicture(attributes, _credit(still.credit))

    return printed


def elsewhere(source: str, shown: Callable[[str], str], stills: Mapping[str, Still]) -> Printing:
    """How a letter or a feed shows them. shown: what it says of a picture, by its path in the site."""

    def printed(written: str) -> PrintedPicture | None:
        still = _named(source, written, stills)
        if still is None:
            return None
        width = min(_IN_LETTER, still.plain.width)
        attributes = {"class": CLASS, "src": shown(still.plain.href), "width": str(width)}
        return PrintedPicture(attributes, _credit(still.credit))

    return printed


def _named(source: str, written: str, stills: Mapping[str, Still]) -> Still | None:
    return stills.get(file_of(source, written, picture=True) or "")


def _credit(credit: Credit) -> Markup:
    """Whose a picture is, in small print; empty where its card asks for nothing to be printed."""
    said = ", ".join(filter(None, (credit.text, credit.licence)))
    if not said:
        return Markup()
    words = Markup('<a href="{}">{}</a>').format(credit.url, said) if credit.url else escape(said)
    return Markup(' <small class="picture-credit">{}</small>').format(words)
