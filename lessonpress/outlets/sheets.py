"""A plate for other places than its page: all its pictures on one sheet, and one file on a square."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from lessonpress.drawing import SHEET, SQUARE, SheetLayout, Size, on_square, sheet
from lessonpress.outlets.diagrams import Beside, ChartDiagram, PanelDiagram

_SVG = "svg"
_ABREAST = 2  # pictures of a pair on a square; of more than two, letters could not be read
_SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)  # of a square's width: what is too tall is laid out narrower
_HEIGHT = re.compile(rb'<svg[^>]*? height="([0-9.]+)"')


@dataclass(frozen=True)
class Sheet:
    """One file of several pictures of a plate, or of one, on a square where its size is the square's."""

    beside: Beside
    pictures: tuple[PanelDiagram | ChartDiagram, ...]

    def drawn(self, suffix: str) -> bytes:
        """The file; as SVG, all that it shows and no drawing."""
        layout = self._fitting if self.beside.size == SQUARE else self._layout(1.0)
        files = self._files(layout, suffix)
        if suffix == _SVG:
            return b"".join(files)
        whole = files[0] if len(files) == 1 else sheet(files, layout)
        return on_square(whole, SQUARE.across or 0) if self.beside.size == SQUARE else whole

    def _layout(self, share: float) -> SheetLayout:
        size = self.beside.size
        across = size.across or size.width
        return SheetLayout(len(self.pictures), round(across * share), round(size.width * share))

    @property
    def _fitting(self) -> SheetLayout:
        """The widest on which the pictures are no taller than a square; else the narrowest."""
        for share in _SHARES:
            layout = self._layout(share)
            if max(map(_height, self._files(layout, _SVG))) <= SQUARE.width:
                break
        return layout

    def _files(self, layout: SheetLayout, suffix: str) -> list[bytes]:
        return [_sized(one, layout.size).drawn(suffix) for one in self.pictures]


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


def _height(svg: bytes) -> float:
    """CSS px of a drawing of ours."""
    found = _HEIGHT.search(svg)
    assert found is not None  # every one that travels alone says its size
    return float(found[1])
