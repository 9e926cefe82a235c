"""A chart or a plan as a drawing of its own: dots, bands, credit. `formats/` makes files of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from lessonpress.drawing.alone import (
    WIDTH,
    Label,
    credit_words,
    face_style,
    foot_of,
    lettered_foot,
)
from lessonpress.drawing.chart import HEIGHT, chart_elements
from lessonpress.drawing.palette import GROUND, INK, STAMP
from lessonpress.drawing.paper import document, group, rect, sheet
from lessonpress.drawing.plan import plan_elements, plan_height
from lessonpress.figures import Chart, FloorPlan, lettered
from lessonpress.measure import Units

STYLE = (
    f".dot,.band,.value,.pm{{fill:{STAMP}}}"
    f".value,.pm{{stroke:{GROUND};stroke-width:4px;paint-order:stroke}}"  # no rule runs through a number
)
DateWords = Callable[[date], str]


def with_numbers(label: Label, chart: Chart | FloorPlan, units: Units, date_words: DateWords) -> Label:
    """The label with every number of a chart in words after its description; a plan has its own there."""
    if not isinstance(chart, Chart):
        return label
    parts = (label.description, *_numbers(chart, units, date_words))
    return replace(label, description="\n".join(part for part in parts if part))


def _numbers(chart: Chart, units: Units, date_words: DateWords) -> list[str]:
    """ "12 Oct 2026, Dune: 4.0 in ± 0.6 away from the target" for every point that was measured."""
    said = ((point, lettered(point.measure, units)) for point in chart.points)
    return [f"{date_words(point.on)}, {point.label}: {number.full}" for point, number in said if number]


def drawn_chart(
    chart: Chart | FloorPlan,
    label: Label,
    units: Units,
    date_words: DateWords,
    *,
    faced: bool,
    width: float = WIDTH,
) -> str:
    """The chart or plan as one SVG. faced: whether the plate face is put into it. width: CSS px."""
    foot = foot_of(label, credit_words(chart.credits), width)
    own = HEIGHT if isinstance(chart, Chart) else plan_height(chart, width)
    height = own + foot.height
    drawing = sheet(width, height, sized=True)
    drawing.embed_stylesheet((face_style() if faced else "") + STYLE)
    drawing.add(rect((0, 0), width, height, fill=GROUND))
    drawn = (
        chart_elements(chart, width, units, date_words)
        if isinstance(chart, Chart)
        else plan_elements(chart, width, units)
    )
    drawing.add(group(drawn, color=INK))
    drawing.add(lettered_foot(element for line in foot.pieces(own) for element in line.elements))
    drawing.set_desc(title=label.title, desc=label.description or None)
    return document(drawing)
