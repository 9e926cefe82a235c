"""A chart as a drawing of its own: dots, bands, credit; SVG, or PNG from the same SVG."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from io import BytesIO

from PIL import Image

from lessonpress.drawing.alone import (
    GROUND,
    WIDTH,
    Label,
    credit_words,
    face_style,
    foot_of,
    lettered_foot,
    render_png,
    written_png,
)
from lessonpress.drawing.chart import HEIGHT, chart_elements
from lessonpress.drawing.palette import INK
from lessonpress.drawing.paper import document, group, rect, sheet
from lessonpress.figures.plates import Chart
from lessonpress.figures.printing import lettered
from lessonpress.measure import Units

STAMP = "#55208A"  # of numbers and their bands, as the theme prints them by day
STYLE = (
    f".dot,.band,.value,.pm{{fill:{STAMP}}}"
    f".value,.pm{{stroke:{GROUND};stroke-width:4px;paint-order:stroke}}"  # no rule runs through a number
)
DateWords = Callable[[date], str]


def standalone_chart_svg(chart: Chart, label: Label, *, units: Units, date_words: DateWords) -> str:
    """The chart as one SVG file that needs nothing beside it.

    Every number in words follows the label's description, since the table is elsewhere.
    """
    return _drawn(chart, _with_numbers(label, chart, units, date_words), units, date_words, faced=True)


def standalone_chart_png(
    chart: Chart, label: Label, *, units: Units, date_words: DateWords, zoom: float = 2.0
) -> bytes:
    """The same as PNG, `zoom` px to a CSS px, with title, description, numbers and credit inside it."""
    drawn = _drawn(chart, replace(label, description=""), units, date_words, faced=False)
    whole = Image.open(BytesIO(render_png(drawn, zoom))).convert("RGB")
    return written_png(whole, _with_numbers(label, chart, units, date_words), credit_words(chart.credits))


def _with_numbers(label: Label, chart: Chart, units: Units, date_words: DateWords) -> Label:
    told = (label.description, *_numbers(chart, units, date_words))
    return replace(label, description="\n".join(part for part in told if part))


def _numbers(chart: Chart, units: Units, date_words: DateWords) -> list[str]:
    """ "12 Oct 2026, Dune: 4.0 in ± 0.6 away from the target" for every point that was measured."""
    said = ((point, lettered(point.measure, units)) for point in chart.points)
    return [f"{date_words(point.on)}, {point.label}: {number.full}" for point, number in said if number]


def _drawn(chart: Chart, label: Label, units: Units, date_words: DateWords, *, faced: bool) -> str:
    foot = foot_of(label, credit_words(chart.credits), WIDTH)
    height = HEIGHT + foot.height
    drawing = sheet(WIDTH, height, sized=True)
    drawing.embed_stylesheet((face_style() if faced else "") + STYLE)
    drawing.add(rect((0, 0), WIDTH, height, fill=GROUND))
    drawing.add(group(chart_elements(chart, WIDTH, units, date_words), color=INK))
    drawing.add(lettered_foot(foot, HEIGHT))
    drawing.set_desc(title=label.title, desc=label.description or None)
    return document(drawing)
