"""Draws standalone diagrams. Those slow to make are kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lessonpress.drawing import FORMATS
from lessonpress.outlets import Diagram
from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.receipt import hash_of


@dataclass(frozen=True)
class Kept:
    """A file that is slow to make. suffix: of its format."""

    path: str
    suffix: str
    entry: CacheEntry


@dataclass(frozen=True)
class Drawing:
    """A diagram in every format: the quick ones by their path, the slow ones in the cache."""

    made: dict[str, bytes]
    kept: tuple[Kept, ...]


def draw(diagrams: Iterable[Diagram], cache: Cache) -> Iterator[Drawing]:
    """Every diagram in every format; what is slow to make is made where it is not kept yet."""
    for diagram in diagrams:
        drawing = _quick(diagram, cache)
        for one in drawing.kept:
            if one.entry.kept() is None:
                one.entry.keep(diagram.drawn(one.suffix))
        yield drawing


def _quick(diagram: Diagram, cache: Cache) -> Drawing:
    beside = diagram.beside
    quick = {
        beside.path(suffix): diagram.drawn(suffix) for suffix in beside.formats if not FORMATS[suffix].SLOW
    }
    shown = hash_of(diagram.shown.encode())
    kept = tuple(
        Kept(
            beside.path(suffix),
            suffix,
            cache.entry("diagrams", [suffix, FORMATS[suffix].MANNER, shown, str(beside.size.across)]),
        )
        for suffix in beside.formats
        if FORMATS[suffix].SLOW
    )
    return Drawing(quick, kept)
