"""A chart as a drawing of its own: dots, bands, credit. `formats/` makes files of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from lessonpress.drawing.alone import (
    WIDTH,
    Foot,
    Label,
    credit_words,
    face_style,
    foot_of,
    lettered_foot,
)
from lessonpress.drawing.chart import HEIGHT, chart_elements
from lessonpress.drawing.palette import GROUND, INK, STAMP
from lessonpress.drawing.paper import document, group, rect, sheet
from lessonpress.figures import Chart, lettered
from lessonpress.measure import Units

STYLE = (
    f".dot,.band,.value,.pm{{fill:{STAMP}}}"
    f".value,.pm{{stroke:{GROUND};stroke-width:4px;paint-order:stroke}}"  # no rule runs through a number
)
DateWords = Callable[[date], str]


@dataclass(frozen=True)
class ChartAlone:
    """A chart that travels alone. date_words: how its days are said; width: CSS px."""

    chart: Chart
    label: Label
    units: Units
    date_words: DateWords
    width: int = WIDTH

    @cached_property
    def said(self) -> Label:
        """The label with every number in words after its description, since the table is elsewhere."""
        parts = (self.label.description, *_numbers(self.chart, self.units, self.date_words))
        return replace(self.label, description="\n".join(part for part in parts if part))

    @cached_property
    def foot(self) -> Foot:
        return foot_of(self.label, self.credit, float(self.width))

    @property
    def credit(self) -> str:
        return credit_words(self.chart.credits)

    @property
    def height(self) -> float:
        """CSS px."""
        return HEIGHT + self.foot.height

    def svg(self, description: str, *, faced: bool = True) -> str:
        """The chart as one SVG. faced: whether the plate face is put into it."""
        drawing = sheet(self.width, self.height, sized=True)
        drawing.embed_stylesheet((face_style() if faced else "") + STYLE)
        drawing.add(rect((0, 0), self.width, self.height, fill=GROUND))
        drawing.add(group(chart_elements(self.chart, self.width, self.units, self.date_words), color=INK))
        drawing.add(lettered_foot(element for line in self.foot.pieces(HEIGHT) for element in line.elements))
        drawing.set_desc(title=self.label.title, desc=description or None)
        return document(drawing)


def _numbers(chart: Chart, units: Units, date_words: DateWords) -> list[str]:
    """ "12 Oct 2026, Dune: 4.0 in ± 0.6 away from the target" for every point that was measured."""
    said = ((point, lettered(point.measure, units)) for point in chart.points)
    return [f"{date_words(point.on)}, {point.label}: {number.full}" for point, number in said if number]
