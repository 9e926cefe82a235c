"""A chart or a plan as a drawing of its own: dots, bands, credit. `formats/` makes files of it."""

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
from lessonpress.drawing.paper import Element, document, group, rect, sheet
from lessonpress.drawing.plan import plan_elements, plan_height
from lessonpress.figures import Chart, FloorPlan, lettered
from lessonpress.measure import Units

STYLE = (
    f".dot,.band,.value,.pm{{fill:{STAMP}}}"
    f".value,.pm{{stroke:{GROUND};stroke-width:4px;paint-order:stroke}}"  # no rule runs through a number
)
DateWords = Callable[[date], str]


@dataclass(frozen=True)
class ChartAlone:
    """A chart or a plan that travels alone. date_words: how a chart's days are said; width: CSS px."""

    chart: Chart | FloorPlan
    label: Label
    units: Units
    date_words: DateWords
    width: int = WIDTH

    @cached_property
    def said(self) -> Label:
        """The label with every number of a chart in words after its description; a plan has its own there."""
        if not isinstance(self.chart, Chart):
            return self.label
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
        return self._own_height + self.foot.height

    def svg(self, description: str, *, faced: bool = True) -> str:
        """The chart or plan as one SVG. faced: whether the plate face is put into it."""
        drawing = sheet(self.width, self.height, sized=True)
        drawing.embed_stylesheet((face_style() if faced else "") + STYLE)
        drawing.add(rect((0, 0), self.width, self.height, fill=GROUND))
        drawing.add(group(self._elements, color=INK))
        lines = self.foot.pieces(self._own_height)
        drawing.add(lettered_foot(element for line in lines for element in line.elements))
        drawing.set_desc(title=self.label.title, desc=description or None)
        return document(drawing)

    @property
    def _own_height(self) -> float:
        return HEIGHT if isinstance(self.chart, Chart) else plan_height(self.chart, self.width)

    @property
    def _elements(self) -> list[Element]:
        if isinstance(self.chart, Chart):
            return chart_elements(self.chart, self.width, self.units, self.date_words)
        return plan_elements(self.chart, self.width, self.units)


def _numbers(chart: Chart, units: Units, date_words: DateWords) -> list[str]:
    """ "12 Oct 2026, Dune: 4.0 in ± 0.6 away from the target" for every point that was measured."""
    said = ((point, lettered(point.measure, units)) for point in chart.points)
    return [f"{date_words(point.on)}, {point.label}: {number.full}" for point, number in said if number]
