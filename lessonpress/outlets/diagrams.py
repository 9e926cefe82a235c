"""Each panel of a plate, and each chart, as a file of its own for a newsletter or a talk, in every format."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from hashlib import sha256
from typing import Protocol, TypeVar

from lessonpress.drawing import (
    ALONE,
    FORMATS,
    LETTER,
    ChartAlone,
    DateWords,
    KeyLine,
    Label,
    PanelAlone,
    Pictured,
    Size,
    chart_pictured,
    panel_pictured,
)
from lessonpress.figures import BoundLesson, Chart, FloorPlan, Key, Panel, keys_of, lettered
from lessonpress.manuscript import Site
from lessonpress.measure import Units
from lessonpress.outlets.addresses import address
from lessonpress.pages import diagram_path, lesson_path

Picture = Callable[[], bytes]
PictureOf = Callable[[Panel], Picture]


class Diagram(Protocol):
    """A drawing that is made in several formats."""

    @property
    def beside(self) -> Beside:
        """Where its files lie."""

    @property
    def shown(self) -> str:
        """All that it shows, in words and numbers: what is equal here is equal in every format."""

    def drawn(self, suffix: str) -> bytes:
        """The file in the format of that suffix."""


@dataclass(frozen=True)
class Beside:
    """Where a diagram lies: beside its lesson's page, under its plate's name.

    position: of `count`, from 0. size: that it is made at.
    """

    lesson: str
    plate: str
    position: int
    count: int
    size: Size = ALONE

    @property
    def formats(self) -> tuple[str, ...]:
        """The suffixes of its files."""
        return self.size.formats or tuple(FORMATS)

    def path(self, suffix: str) -> str:
        """Where the pages link it in the format of that suffix."""
        return diagram_path(self.lesson, self.plate, self.position, self.count, suffix, self.size.name)


@dataclass(frozen=True)
class PanelDiagram:
    """What the drawing of a panel is made from. picture: gives the panel's crop."""

    beside: Beside
    panel: Panel
    picture: Picture
    label: Label
    units: Units

    @cached_property
    def _alone(self) -> PanelAlone:
        return PanelAlone(self.panel, self.label, self.units, self.beside.size.width)

    @property
    def height(self) -> float:
        """CSS px."""
        return self._alone.height

    @property
    def shown(self) -> str:
        return self._alone.svg(sha256(self.picture()).hexdigest(), faced=False)

    def drawn(self, suffix: str) -> bytes:
        return FORMATS[suffix].panel(self._alone, self.picture(), self.beside.size.across)

    def pictured(self) -> Pictured:
        """In pixels."""
        return panel_pictured(self._alone, self.picture(), self.beside.size.across)


@dataclass(frozen=True)
class ChartDiagram:
    """What the drawing of a chart or a plan is made from. dates: a chart's days in words."""

    beside: Beside
    chart: Chart | FloorPlan
    label: Label
    units: Units
    dates: Mapping[date, str]

    @cached_property
    def _alone(self) -> ChartAlone:
        width = self.beside.size.width
        return ChartAlone(self.chart, self.label, self.units, self.dates.__getitem__, width)

    @property
    def height(self) -> float:
        """CSS px."""
        return self._alone.height

    @property
    def shown(self) -> str:
        return self._alone.svg(self._alone.said.description, faced=False)

    def drawn(self, suffix: str) -> bytes:
        return FORMATS[suffix].chart(self._alone, self.beside.size.across)

    def pictured(self) -> Pictured:
        """In pixels."""
        return chart_pictured(self._alone, self.beside.size.across)


AnyDiagram = TypeVar("AnyDiagram", bound="PanelDiagram | ChartDiagram")


def for_letter(diagram: AnyDiagram) -> AnyDiagram:
    """The same drawing for a letter, which says in its text what is else lettered below; the credit stays."""
    label = Label(diagram.label.title, diagram.label.description)
    return replace(diagram, beside=replace(diagram.beside, size=LETTER), label=label)


def without_letters(diagram: AnyDiagram) -> AnyDiagram:
    """The same drawing with its lines and signs alone; a chart is nothing without its numbers and stays."""
    if not isinstance(diagram, PanelDiagram):
        return diagram
    bare = tuple(replace(drawn, letter="") for drawn in diagram.panel.drawn)
    return replace(diagram, panel=replace(diagram.panel, drawn=bare), label=replace(diagram.label, keys=()))


def diagrams_of(
    lesson: BoundLesson, site: Site, plate_word: str, picture_of: PictureOf, date_words: DateWords
) -> Iterator[PanelDiagram | ChartDiagram]:
    """One for each panel of each plate and for each chart or plan, in the lesson's order.

    plate_word: the theme's, for the heading. date_words: how a chart's days are said.
    """
    units, title = site.units, lesson.lesson.title
    at = address(site, lesson_path(lesson.lesson.folder)) if site.url else ""
    for plate in lesson.plates:
        if plate.drawing is not None:
            yield ChartDiagram(
                Beside(lesson.lesson.folder, plate.id, 0, 1),
                plate.drawing,
                Label(
                    plate.drawing.name,
                    plate.description,
                    heading=f"{plate_word} {plate.numeral} · {plate.drawing.name}",
                    lesson=title,
                    address=at,
                ),
                units,
                dates={
                    point.on: date_words(point.on) for point in (plate.chart.points if plate.chart else ())
                },
            )
        for position, panel in enumerate(plate.panels):
            yield PanelDiagram(
                Beside(lesson.lesson.folder, plate.id, position, len(plate.panels)),
                panel,
                picture_of(panel),
                Label(
                    panel.alt or plate.alt,
                    plate.description,
                    heading=f"{plate_word} {plate.numeral} · {panel.label}",
                    lesson=title,
                    keys=key_lines(panel, units),
                    address=at,
                ),
                units,
            )


def key_lines(panel: Panel, units: Units) -> tuple[KeyLine, ...]:
    """What each letter on a panel means, with its numbers in words."""
    measures = {one.measure.id: one.measure for one in panel.drawn if one.measure is not None}

    def said(key: Key) -> str:
        numbers = [number.full for name in key.measures if (number := lettered(measures[name], units))]
        return f"{key.words}: {'; '.join(numbers)}" if numbers else key.words

    return tuple(KeyLine("".join(key.letters), key.colour, key.blank, said(key)) for key in keys_of([panel]))
