"""A plate made ready for its template: pictures found, overlays drawn twice, caption and keys printed."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from markupsafe import Markup

from lessonpress.drawing import (
    FORMATS,
    SHEET,
    SQUARE,
    DateWords,
    Say,
    chart_svg,
    plan_svg,
    plate_svg,
    scale_bar_svg,
)
from lessonpress.figures import BoundLesson, Chart, ChartPoint, Credit, FloorPlan, Key, Panel, Plate
from lessonpress.manuscript import Lesson
from lessonpress.measure import Units
from lessonpress.pages import ledger, prose
from lessonpress.pages.film import film_size
from lessonpress.pages.links import diagram_path, lesson_path, loop_path
from lessonpress.pages.markdown import Writing, render
from lessonpress.pages.pictures import Picture, PictureBook, shot_of
from lessonpress.pages.shown import Shown, shown, spans
from lessonpress.records import Otherwise, differing, other_units

Layout = Literal["page", "opening", "abreast", "square"]
# CSS px that each layout is drawn for, narrow and wide; the style sheet shows the one that fits
WIDTHS: dict[Layout, tuple[float, float]] = {
    "page": (360.0, 640.0),
    "opening": (360.0, 560.0),
    "abreast": (190.0, 360.0),  # pictures of a strip or a pair, two beside each other
}
STEPPED = 640.0  # of a strip's picture, one in view on a wide screen
CHART_WIDTHS = (340.0, 640.0)
THUMB = 208.0
FEW_NAMES = 5  # that fit beside each other under a phone's picture


@dataclass(frozen=True)
class Overlaid:
    """One picture with its overlays: its files narrowest first, its shape, its two layouts.

    widest, widest_bar: for where a picture of a strip is shown alone on a wide screen; else None.
    """

    panel: Panel
    pictures: tuple[Picture, ...]
    width: int
    height: int
    narrow: Markup
    wide: Markup
    narrow_bar: Markup | None
    wide_bar: Markup | None
    layout: Layout
    widest: Markup | None = None
    widest_bar: Markup | None = None


@dataclass(frozen=True)
class PrintedKey:
    """A line under a plate. numbers: its measures, lettered. row: the id of the first one, "" where none."""

    key: Key
    numbers: tuple[Markup, ...]
    row: str


@dataclass(frozen=True)
class PrintedPoint:
    """A number of a chart. path: of the lesson it was taken in, "" for a clip."""

    point: ChartPoint
    number: Shown | None
    path: str


@dataclass(frozen=True)
class PrintedChart:
    """A chart at both widths, in all units that its numbers have, and the table of its numbers."""

    narrow: Markup
    wide: Markup
    unit: Markup
    points: tuple[PrintedPoint, ...]


@dataclass(frozen=True)
class PrintedFloor:
    """A plan at both widths, in both units."""

    narrow: Markup
    wide: Markup


@dataclass(frozen=True)
class Film:
    """The files of a loop, paths in the site, and its pictures' size, px."""

    video: str
    poster: str
    width: int
    height: int


@dataclass(frozen=True)
class PrintedPlate:
    plate: Plate
    panels: tuple[Overlaid, ...]
    caption: Markup
    keys: tuple[PrintedKey, ...]
    rows: tuple[ledger.Row, ...]
    pair_rows: tuple[ledger.PairRow, ...]
    diagrams: tuple[tuple[str, ...], ...]  # of each panel or of the chart, a path in the site for each format
    formats: tuple[str, ...]  # what a link to each of them says
    elsewhere: tuple[tuple[str, str], ...]  # of each file of the whole plate its size and path
    credits: tuple[Credit, ...]
    chart: PrintedChart | None
    floor: PrintedFloor | None
    film: Film | None

    @property
    def remarks(self) -> tuple[tuple[str, Otherwise], ...]:
        """A pair's comparisons, each with what it says in other readings."""
        otherwise = self.plate.remarks_otherwise or ((),) * len(self.plate.remarks)
        return tuple(zip(self.plate.remarks, otherwise, strict=True))

    @property
    def paragraphs(self) -> tuple[tuple[str, Otherwise], ...]:
        """The long description, a paragraph a line, each with what it says in other readings."""
        others = [(reading, _lines(told)) for reading, told in self.plate.description_otherwise]
        return tuple(
            (line, differing(line, [(reading, lines[at]) for reading, lines in others]))
            for at, line in enumerate(_lines(self.plate.description))
        )

    @property
    def along(self) -> tuple[float, ...]:
        """Where each picture stands on the rule under a strip, per cent of it.

        By its time; evenly where the pictures do not go on in time.
        """
        times = [panel.seconds for panel in self.plate.stepped]
        if len(times) < 2:
            return tuple(0.0 for _ in times)
        if any(late <= early for early, late in pairwise(times)):
            times = [float(position) for position in range(len(times))]
        return tuple(100 * (time - times[0]) / (times[-1] - times[0]) for time in times)

    @property
    def named(self) -> tuple[int, ...]:
        """Pictures, from 0, whose names are under the rule: the events and both ends, or all of a few."""
        panels = self.plate.stepped
        few = len(panels) <= FEW_NAMES
        return tuple(
            at for at, panel in enumerate(panels) if few or panel.event or at in (0, len(panels) - 1)
        )

    def is_between(self, overlaid: Overlaid) -> bool:
        """Whether a picture is shown only as its strip is stepped."""
        return overlaid.panel in self.plate.between


@dataclass(frozen=True)
class Printer:
    """Makes plates of one lesson ready. date_words: how a chart says its days; say: the program's words."""

    bound: BoundLesson
    book: PictureBook
    units: Units
    date_words: DateWords
    say: Say

    def printed(self, plate: Plate, writing: Writing, *, opens: bool) -> PrintedPlate:
        """The plate for its page; writing: how its caption is rendered; opens: as its opening plate."""
        layout: Layout = "opening" if opens else "abreast" if len(plate.panels) > 1 else "page"
        return PrintedPlate(
            plate=plate,
            panels=tuple(
                overlaid(
                    panel,
                    self.book,
                    self.units,
                    f"{plate.id}-{position}",
                    "page" if panel in plate.between else layout,
                    say=self.say,
                    stepped=plate.kind == "strip",
                )
                for position, panel in enumerate(plate.stepped, 1)
            ),
            caption=render(plate.caption, writing) if plate.caption else Markup(),
            keys=tuple(_printed_key(key, self.bound, writing) for key in plate.keys),
            rows=ledger.rows_of(plate, self.bound, self.units),
            pair_rows=ledger.pair_rows(plate, self.bound, self.units) if plate.kind == "pair" else (),
            diagrams=_diagrams(plate, self.bound.lesson.folder),
            formats=tuple(one.NAME for one in FORMATS.values()),
            elsewhere=_elsewhere(plate, self.bound.lesson),
            credits=plate.drawing.credits
            if plate.drawing
            else tuple(dict.fromkeys(p.credit for p in plate.panels)),
            chart=None if plate.chart is None else self._chart(plate.chart),
            floor=None if plate.plan is None else self._floor(plate.plan),
            film=_film(plate, self.bound.lesson.folder),
        )

    def _chart(self, chart: Chart) -> PrintedChart:
        points = tuple(
            PrintedPoint(
                point, shown(point.measure, self.units), lesson_path(point.lesson) if point.lesson else ""
            )
            for point in chart.points
        )
        narrow, wide = (self._chart_svg(chart, width) for width in CHART_WIDTHS)
        unit = next((point.number.unit for point in points if point.number is not None), Markup())
        return PrintedChart(narrow, wide, unit, points)

    def _floor(self, plan: FloorPlan) -> PrintedFloor:
        narrow, wide = (
            spans(
                (units, Markup(plan_svg(plan, width, units, self.say)))
                for units in (self.units, other_units(self.units))
            )
            for width in CHART_WIDTHS
        )
        return PrintedFloor(narrow, wide)

    def _chart_svg(self, chart: Chart, width: float) -> Markup:
        """The chart, in the other units too where its numbers have others."""
        return spans(
            (units, Markup(chart_svg(chart, width, units, self.date_words, self.say)))
            for units in (self.units, other_units(self.units))
        )


def _diagrams(plate: Plate, lesson: str) -> tuple[tuple[str, ...], ...]:
    """The files of each panel, or of the chart or plan: one in each format."""
    count = 1 if plate.drawing else len(plate.panels)
    return tuple(
        tuple(diagram_path(lesson, plate.id, position, count, suffix) for suffix in FORMATS)
        for position in range(count)
    )


def _elsewhere(plate: Plate, lesson: Lesson) -> tuple[tuple[str, str], ...]:
    """Its sheet, where it has several pictures, and its square; a lesson that is not listed has neither."""
    if not lesson.listed or not (plate.drawing or plate.panels):
        return ()
    sizes = (SHEET, SQUARE) if len(plate.panels) > 1 else (SQUARE,)
    return tuple(
        (size.name, diagram_path(lesson.folder, plate.id, 0, 1, suffix, size.name))
        for size in sizes
        for suffix in size.formats
    )


def overlaid(
    panel: Panel,
    book: PictureBook,
    units: Units,
    prefix: str,
    layout: Layout = "page",
    *,
    say: Say,
    stepped: bool = False,
) -> Overlaid:
    """A panel at both widths of its layout; prefix sets the ids within apart from others on the page.

    stepped: of a strip, where it may stand alone.
    """
    narrow, wide = WIDTHS[layout]

    def drawn(width: float, name: str) -> Markup:
        return Markup(
            plate_svg(
                panel, width, mirrored=panel.mirrored, ids_prefix=f"{prefix}-{name}", say=say, every=True
            )
        )

    def bar(width: float) -> Markup | None:
        svgs = [
            scale_bar_svg(panel, width, one, mirrored=panel.mirrored, say=say)
            for one in (units, other_units(units))
        ]
        return None if None in svgs else Markup("".join(svg or "" for svg in svgs))

    alone = stepped and layout == "abreast"
    return Overlaid(
        panel=panel,
        pictures=book.of(shot_of(panel)),
        width=round(panel.crop[2] - panel.crop[0]),
        height=round(panel.crop[3] - panel.crop[1]),
        narrow=drawn(narrow, "narrow"),
        wide=drawn(wide, "wide"),
        narrow_bar=bar(narrow),
        wide_bar=bar(wide),
        layout=layout,
        widest=drawn(STEPPED, "widest") if alone else None,
        widest_bar=bar(STEPPED) if alone else None,
    )


def thumb(panel: Panel, book: PictureBook, prefix: str) -> Overlaid:
    """The square of a lesson, without letters."""
    svg = Markup(plate_svg(panel, THUMB, mirrored=panel.mirrored, thumb=True, ids_prefix=prefix))
    side = round(panel.crop[2] - panel.crop[0])
    return Overlaid(panel, book.of(shot_of(panel)), side, side, svg, Markup(), None, None, "square")


def _film(plate: Plate, lesson: str) -> Film | None:
    if plate.loop is None:
        return None
    width, height = film_size(plate.loop.panels[0])
    return Film(loop_path(lesson, plate.id, "mp4"), loop_path(lesson, plate.id, "webp"), width, height)


def _printed_key(key: Key, bound: BoundLesson, writing: Writing) -> PrintedKey:
    measures = [bound.measures[name] for name in key.measures if name in bound.measures]
    numbers = tuple(prose.number_html(measure, writing.printing) for measure in measures)
    return PrintedKey(key, numbers, measures[0].id if measures else "")


def _lines(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.strip()]
