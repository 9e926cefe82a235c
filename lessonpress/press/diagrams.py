"""Draws a site's standalone diagrams. Those slow to make are kept, and made in parallel."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lessonpress.drawing import FORMATS
from lessonpress.outlets import Diagram
from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.parallel import executor_for, run_parallel
from lessonpress.press.progress import Progress
from lessonpress.press.receipt import hash_of

_WORTH_A_POOL = 8  # slow drawings; fewer are made before a pool of processes has started
_ALL_THAT_IT_SHOWS = "svg"  # equal in this format, equal in every other


@dataclass(frozen=True)
class Kept:
    """A file that is slow to make. suffix: of its format."""

    diagram: Diagram
    suffix: str
    entry: CacheEntry

    @property
    def path(self) -> str:
        return self.diagram.beside.path(self.suffix)


@dataclass(frozen=True)
class Drawing:
    """A diagram in every format: the quick ones by their path, the slow ones in the cache."""

    made: dict[str, bytes]
    kept: tuple[Kept, ...]


def draw(diagrams: Iterable[Diagram], cache: Cache, progress: Progress) -> list[Drawing]:
    """Makes every diagram in every format that is not kept yet."""
    drawings = [_quick(diagram, cache) for diagram in diagrams]
    missing = [one for drawing in drawings for one in drawing.kept if one.entry.kept() is None]
    if missing:
        progress.begin("drawing diagrams", len(missing))
    with executor_for(len(missing) if len(missing) >= _WORTH_A_POOL else 1) as executor:
        for _, future in run_parallel(_draw, missing, executor):
            future.result()
            progress.step()
    return drawings


def _quick(diagram: Diagram, cache: Cache) -> Drawing:
    beside = diagram.beside
    quick = {suffix: diagram.drawn(suffix) for suffix in beside.formats if not FORMATS[suffix].SLOW}
    shown = hash_of(quick.get(_ALL_THAT_IT_SHOWS) or diagram.drawn(_ALL_THAT_IT_SHOWS))
    kept = tuple(
        Kept(diagram, suffix, cache.entry("diagrams", [suffix, shown]))
        for suffix in beside.formats
        if FORMATS[suffix].SLOW
    )
    return Drawing({beside.path(suffix): content for suffix, content in quick.items()}, kept)


def _draw(one: Kept) -> None:
    one.entry.keep(one.diagram.drawn(one.suffix))
