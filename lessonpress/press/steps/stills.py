"""Steps of the author's own pictures: the card of each, and what is published of it."""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.footage import FootageError
from lessonpress.manuscript import StillCard, read_still_card, read_text, still_card_of
from lessonpress.pages import Still
from lessonpress.press.steps.reader import Reader
from lessonpress.press.stills import LIBRARIES, take_in


@dataclass(frozen=True)
class Taken:
    """fault: what is wrong with the file of a picture that cannot be shown, and what to do."""

    still: Still | None = None
    fault: tuple[str, str] | None = None


def card(reader: Reader, path: str) -> StillCard | None:
    """The card of an own picture; None where there is none, which is reported where the picture is shown."""
    file = still_card_of(path)
    if not reader.there(file):
        return None
    passage = read_text(reader.root, reader.uses(file), reader.problems)
    if passage is None:
        return None
    return read_still_card(
        passage, reader.today, reader.problems, lambda: reader.value("picturing", "", path) or ()
    )


def taken_in(reader: Reader, path: str) -> Taken:
    """An author's own picture, put out in all its sizes, once its card says whose it is."""
    card: StillCard | None = reader.value("still card", path)
    if card is None:
        return Taken()
    for library in LIBRARIES:
        reader.library(library)
    reader.uses(path)
    try:
        made = take_in(path, reader.works.own_file(path), card, reader.problems)
    except FootageError as fault:
        return Taken(fault=(fault.reason, fault.way_out))
    for href, content in made.files.items():
        reader.put(href, content)
    return Taken(made.still)
