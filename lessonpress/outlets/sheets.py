"""A plate for other places than its page: all its pictures on one sheet, and one file on a square."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby

from lessonpress.drawing import SHEET, SQUARE, SheetLayout, Size, on_square, sheet
from lessonpress.outlets.diagrams import Beside, ChartDiagram, PanelDiagram

_ABREAST = 2  # pictures of a pair on a square; of more than two, letters could not be read
_SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)  # of a square's width: what is too tall is laid out narrower


@dataclass(frozen=True)
class Sheet:
    """One file of several pictures of a plate, or of one, on a square where its size is the square's."""

    beside: Beside
    pictures: tuple[PanelDiagram | ChartDiagram, ...]

    @property
    def shown(self) -> str:
        """All that it shows."""
        return "".join(one.shown for one in self._laid_out)

    def drawn(self, suffix: str) -> bytes:
        """The file. Raises ValueError for a format without pixels, in which pictures are not put together."""
        if suffix != "png":
            raise ValueError(f"a sheet is a PNG, not {suffix}")
        pictures = [one.pictured() for one in self._laid_out]
        whole = pictures[0] if len(pictures) == 1 else sheet(pictures, self._layout)
        return (on_square(whole, SQUARE.across or 0) if self.beside.size == SQUARE else whole).png()

    @cached_property
    def _laid_out(self) -> list[PanelDiagram | ChartDiagram]:
        return self._pictures(self._layout)

    @cached_property
    def _layout(self) -> SheetLayout:
        """For a square the widest at which no picture is taller than it; else the narrowest."""
        if self.beside.size != SQUARE:
            return self._sized(1.0)
        fitting = (self._sized(share) for share in _SHARES)
        return next((one for one in fitting if self._tallest(one) <= SQUARE.width), self._sized(_SHARES[-1]))

    def _sized(self, share: float) -> SheetLayout:
        size = self.beside.size
        across = size.across or size.width
        return SheetLayout(len(self.pictures), round(across * share), round(size.width * share))

    def _tallest(self, layout: SheetLayout) -> float:
        return max(one.height for one in self._pictures(layout))

    def _pictures(self, layout: SheetLayout) -> list[PanelDiagram | ChartDiagram]:
        return [_sized(one, layout.size) for one in self.pictures]


def sheets_of(diagrams: Iterable[PanelDiagram | ChartDiagram]) -> Iterator[Sheet]:
    """For each plate of several pictures their sheet, and for each plate its square.

    diagrams: of a lesson, in its order. On the square of a strip is its last picture alone.
    """
    for _, grouped in groupby(diagrams, key=lambda one: one.beside.plate):
        pictures = tuple(grouped)
        if len(pictures) > 1:
            yield _on(pictures, SHEET)
        yield _on(pictures if len(pictures) <= _ABREAST else pictures[-1:], SQUARE)


def _on(pictures: Sequence[PanelDiagram | ChartDiagram], size: Size) -> Sheet:
    beside = replace(pictures[0].beside, position=0, count=1, size=size)
    if size == SQUARE:  # a post has its link beside it, and its picture needs the room
        pictures = [replace(one, label=replace(one.label, address="")) for one in pictures]
    return Sheet(beside, tuple(pictures))


def _sized(diagram: PanelDiagram | ChartDiagram, size: Size) -> PanelDiagram | ChartDiagram:
    return replace(diagram, beside=replace(diagram.beside, size=size))
