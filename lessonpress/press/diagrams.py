"""Draws a site's standalone diagrams. PNGs are slow to make, so they are kept, and made in parallel."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lessonpress.outlets.diagrams import Diagram
from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.parallel import executor_for, run_parallel
from lessonpress.press.progress import Progress
from lessonpress.press.receipt import hash_of

_WORTH_A_POOL = 8  # PNGs; fewer are drawn before a pool of processes has started


@dataclass(frozen=True)
class Drawing:
    diagram: Diagram
    entry: CacheEntry


def draw(diagrams: Iterable[Diagram], cache: Cache, progress: Progress) -> list[tuple[Drawing, bytes]]:
    """Makes every PNG that is not kept yet. Each drawing with its SVG, which holds all that it shows."""
    drawings = []
    for diagram in diagrams:
        svg = diagram.svg()
        drawings.append((Drawing(diagram, cache.entry("diagrams", hash_of(svg))), svg))
    missing = [drawing for drawing, _ in drawings if drawing.entry.kept() is None]
    if missing:
        progress.begin("drawing diagrams", len(missing))
    with executor_for(len(missing) if len(missing) >= _WORTH_A_POOL else 1) as executor:
        for _, future in run_parallel(_draw, missing, executor):
            future.result()
            progress.step()
    return drawings


def _draw(drawing: Drawing) -> None:
    drawing.entry.keep(drawing.diagram.png())
