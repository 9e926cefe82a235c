"""Each panel of a plate, and each chart, as a picture of its own for a newsletter or a talk: SVG and PNG."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Protocol

from lessonpress.drawing import (
    KeyLine,
    Label,
    standalone_chart_png,
    standalone_chart_svg,
    standalone_png,
    standalone_svg,
)
from lessonpress.figures.keys import keys_of
from lessonpress.figures.plates import BoundLesson, Chart, Key, Panel
from lessonpress.figures.printing import lettered
from lessonpress.manuscript.site import Site
from lessonpress.measure.units import Units
from lessonpress.outlets.addresses import address
from lessonpress.pages import links

Picture = Callable[[], bytes]
PictureOf = Callable[[Panel], Picture]
DateWords = Callable[[date], str]


class Diagram(Protocol):
    """A drawing that can be handed to another process. svg_path, png_path: where the pages link it."""

    @property
    def svg_path(self) -> str: ...

    @property
    def png_path(self) -> str: ...

    def svg(self) -> bytes: ...

    def png(self) -> bytes: ...


@dataclass(frozen=True)
class PanelDiagram:
    """What the drawing of a panel is made from. picture: gives the panel's crop."""

    svg_path: str
    png_path: str
    panel: Panel
    picture: Picture
    label: Label
    units: Units

    def svg(self) -> bytes:
        picture, turned = self.picture(), self.panel.mirrored
        return standalone_svg(self.panel, picture, self.label, units=self.units, mirrored=turned).encode()

    def png(self) -> bytes:
        picture, turned = self.picture(), self.panel.mirrored
        return standalone_png(self.panel, picture, self.label, units=self.units, mirrored=turned)


@dataclass(frozen=True)
class ChartDiagram:
    """What the drawing of a chart is made from. dates: its days in words."""

    svg_path: str
    png_path: str
    chart: Chart
    label: Label
    units: Units
    dates: Mapping[date, str]

    def svg(self) -> bytes:
        said = self.dates.__getitem__
        return standalone_chart_svg(self.chart, self.label, units=self.units, date_words=said).encode()

    def png(self) -> bytes:
        said = self.dates.__getitem__
        return standalone_chart_png(self.chart, self.label, units=self.units, date_words=said)


def diagrams(
    lesson: BoundLesson, site: Site, plate_word: str, picture_of: PictureOf, date_words: DateWords
) -> Iterator[Diagram]:
    """One for each panel of each plate and for each chart, in the lesson's order.

    plate_word: the theme's, for the heading. date_words: how a chart's days are said.
    """
    units, title = site.units, lesson.lesson.title
    at = address(site, links.lesson(lesson.lesson.name)) if site.url else ""
    for plate in lesson.plates:
        if plate.chart is not None:
            yield ChartDiagram(
                links.diagram(lesson.lesson.name, plate.id, 0, 1, "svg"),
                links.diagram(lesson.lesson.name, plate.id, 0, 1, "png"),
                plate.chart,
                Label(
                    plate.chart.name,
                    plate.description,
                    heading=f"{plate_word} {plate.numeral} · {plate.chart.name}",
                    lesson=title,
                    address=at,
                ),
                units,
                dates={point.on: date_words(point.on) for point in plate.chart.points},
            )
        for position, panel in enumerate(plate.panels):
            path = (lesson.lesson.name, plate.id, position, len(plate.panels))
            yield PanelDiagram(
                links.diagram(*path, "svg"),
                links.diagram(*path, "png"),
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
