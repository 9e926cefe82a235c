"""Steps that print what lies beside a lesson's page: pictures, diagrams, loops, its ledger as data.

Pictures, diagrams and loops are kept by what is on them as well (`press/pictures.py` and its neighbours).
Those of many lessons are made there beforehand, in one pass of each video, and are found here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import partial

from lessonpress.drawing import FORMATS
from lessonpress.figures import BoundSite, Panel, frames_shown
from lessonpress.footage import ClipIndex
from lessonpress.outlets import (
    ChartDiagram,
    Diagram,
    PanelDiagram,
    diagrams_of,
    for_letter,
    ledger_files,
    sheets_of,
)
from lessonpress.pages import Picture, PictureBook, Shot, short_date, shot_of
from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.diagrams import draw
from lessonpress.press.loops import make_loops
from lessonpress.press.pictures import pictures_of
from lessonpress.press.progress import Silent
from lessonpress.press.steps.bind import numbered, shown
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import SeenSite, Values
from lessonpress.records import Problems

PICTURES = ("av", "numpy", "pillow")


@dataclass(frozen=True)
class Printed:
    """A shot's files, narrowest first; widest: name of the widest one's content on the shelf of pictures."""

    shot: Shot
    pictures: tuple[Picture, ...]
    widest: str


def alone(reader: Reader, name: str) -> BoundSite:
    """The site with this one lesson."""
    bound = numbered(reader, name)
    return BoundSite(SeenSite(reader), (bound,), frames_shown((bound,)))


def indexes(reader: Reader, site: BoundSite) -> dict[str, ClipIndex]:
    """Of the clips whose pictures a lesson shows."""
    return {clip: reader.value("played", clip, "index") for clip in sorted(site.frames_shown)}


def pictures(reader: Reader, name: str) -> tuple[Printed, ...]:
    for library in PICTURES:
        reader.library(library)
    site, by_shot = alone(reader, name), defaultdict(list)
    problems = Problems()
    for one in pictures_of(site, indexes(reader, site), reader.cache, Silent(), problems):
        by_shot[one.shot].append(one)
        if not problems.errors:
            reader.put_kept(one.href, one.entry)
    reader.problems.extend(problems.collected)
    return tuple(
        Printed(shot, tuple(one.picture for one in sizes), sizes[-1].entry.name)
        for shot, sizes in by_shot.items()
    )


def book_of(printed: tuple[Printed, ...]) -> PictureBook:
    return PictureBook({one.shot: one.pictures for one in printed})


def diagrams(reader: Reader, name: str) -> list[PanelDiagram | ChartDiagram]:
    """A lesson's diagrams, to be drawn. words: the theme's."""
    bound = shown(reader, name)
    widest = {one.shot: one.widest for one in reader.value("pictures", name)}
    words = Values(reader, "words")

    def picture(panel: Panel) -> Callable[[], bytes]:
        return partial(_content, reader.cache, widest[shot_of(panel)])

    said = partial(short_date, words=words)
    return list(diagrams_of(bound, SeenSite(reader), words["plate"]["word"], picture, said))


def letter_pictures(reader: Reader, name: str) -> list[Diagram]:
    """The same drawings for letters."""
    return [for_letter(diagram) for diagram in diagrams(reader, name)]


def _content(cache: Cache, name: str) -> bytes:
    return CacheEntry(cache.folder, "pictures", name).content()


def standalone(reader: Reader, name: str) -> None:
    """Each panel and chart of a lesson as a picture of its own."""
    _put_drawn(reader, diagrams(reader, name))


def for_letters(reader: Reader, name: str) -> None:
    """The pictures that letters of a lesson show."""
    _put_drawn(reader, letter_pictures(reader, name))


def for_elsewhere(reader: Reader, name: str) -> None:
    """A listed lesson's plates for talks and social networks; others are not meant to be passed on."""
    if reader.value("head", name, "lesson").listed:
        _put_drawn(reader, sheets_of(diagrams(reader, name)))


def _put_drawn(reader: Reader, drawn: Iterable[Diagram]) -> None:
    for library in sorted({library for one in FORMATS.values() for library in one.LIBRARIES}):
        reader.library(library)
    for drawing in draw(drawn, reader.cache):
        for path, content in drawing.made.items():
            reader.put(path, content)
        for one in drawing.kept:
            reader.put_kept(one.path, one.entry)


def moving(reader: Reader, name: str) -> None:
    """The loops of a lesson."""
    for library in PICTURES:
        reader.library(library)
    site = alone(reader, name)
    for loop in make_loops(site, indexes(reader, site), reader.cache):
        for fault in loop.faults:
            reader.problems.error(loop.card_location, fault.reason, fault.way_out)
        if not loop.faults:
            reader.put_kept(loop.path("mp4"), loop.film)
            reader.put_kept(loop.path("webp"), loop.poster)


def ledger(reader: Reader, name: str) -> None:
    """The measures of a lesson as data."""
    bound = replace(shown(reader, name), clips=reader.value("bound", name, "clips"))
    for path, content in ledger_files(bound):
        reader.put(path, content)
