"""A plate made ready for its template: pictures found, overlays drawn twice, caption and keys printed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

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
from lessonpress.figures import (
    BoundLesson,
    Chart,
    ChartPoint,
    Credit,
    FloorPlan,
    Key,
    Panel,
    Plate,
    PlatePictures,
)
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
class Layouts:
    """The overlays of a picture as SVG, and its bar, at the widths of its layout.

    widest, widest_bar: for where a picture of a strip is shown alone on a wide screen; else None.
    """

    narrow: str
    wide: str
    narrow_bar: str | None
    wide_bar: str | None
    widest: str | None = None
    widest_bar: str | None = None


@dataclass(frozen=True)
class Overlaid:
    """One picture with its overlays: its files narrowest first, its shape, its layouts."""

    panel: Panel
    pictures: tuple[Picture, ...]
    width: int
    height: int
    drawn: Layouts
    layout: Layout

    @property
    def narrow(self) -> Markup:
        return Markup(self.drawn.narrow)

    @property
    def wide(self) -> Markup:
        return Markup(self.drawn.wide)

    @property
    def widest(self) -> Markup | None:
        return _markup(self.drawn.widest)

    @property
    def narrow_bar(self) -> Markup | None:
        return _markup(self.drawn.narrow_bar)

    @property
    def wide_bar(self) -> Markup | None:
        return _markup(self.drawn.wide_bar)

    @property
    def widest_bar(self) -> Markup | None:
        return _markup(self.drawn.widest_bar)


def _markup(svg: str | None) -> Markup | None:
    return None if svg is None else Markup(svg)


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
    """Makes plates of one lesson ready. date_words: how a chart says its days; say: the program's words.

    overlays: those of all pictures, by what sets their ids apart.
    """

    bound: BoundLesson
    book: PictureBook
    units: Units
    date_words: DateWords
    say: Say
    overlays: Mapping[str, Layouts]

    def printed(self, plate: Plate, writing: Writing) -> PrintedPlate:
        """The plate for its page; writing: how its caption is rendered."""
        (pictured,) = (one for one in self.bound.pictured if one.id == plate.id)
        return PrintedPlate(
            plate=plate,
            panels=tuple(
                overlaid(
                    place.panel,
                    self.book,
                    self.units,
                    place.prefix,
                    place.layout,
                    say=self.say,
                    drawn=self.overlays[place.prefix],
                )
                for place in places_of(pictured)
            ),
            caption=render(plate.caption, writing) if plate.caption else Markup(),
            keys=tuple(_printed_key(key, self.bound, writing) for key in plate.keys),
            rows=ledger.rows_of(plate, self.bound, self.units),
            pair_rows=ledger.pair_rows(plate, self.bound, self.units) if plate.kind == "pair" else (),
            diagrams=_diagrams(plate, self.bound.lesson.folder),
            formats=tuple(one.NAME for one in FORMATS.values()),
            elsewhere=_elsewhere(plate, self.bound.lesson),
            credits=plate.credits,
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
    drawn: Layouts | None = None,
) -> Overlaid:
    """A panel at both widths of its layout; prefix sets the ids within apart from others on the page.

    drawn: its layouts, where they are drawn already.
    """
    return Overlaid(
        panel=panel,
        pictures=book.of(shot_of(panel)),
        width=round(panel.crop[2] - panel.crop[0]),
        height=round(panel.crop[3] - panel.crop[1]),
        drawn=drawn or layouts(panel, units, prefix, layout, say=say),
        layout=layout,
    )


def layouts(
    panel: Panel, units: Units, prefix: str, layout: Layout, *, say: Say, stepped: bool = False
) -> Layouts:
    """A panel's overlays and its bar at both widths. stepped: of a strip, where it may stand alone."""
    narrow, wide = WIDTHS[layout]

    def drawn(width: float, name: str) -> str:
        return plate_svg(
            panel, width, mirrored=panel.mirrored, ids_prefix=f"{prefix}-{name}", say=say, every=True
        )

    def bar(width: float) -> str | None:
        svgs = [
            scale_bar_svg(panel, width, one, mirrored=panel.mirrored, say=say)
            for one in (units, other_units(units))
        ]
        return None if None in svgs else "".join(svg or "" for svg in svgs)

    alone = stepped and layout == "abreast"
    return Layouts(
        drawn(narrow, "narrow"),
        drawn(wide, "wide"),
        bar(narrow),
        bar(wide),
        drawn(STEPPED, "widest") if alone else None,
        bar(STEPPED) if alone else None,
    )


def overlays_of(plates: Iterable[PlatePictures], units: Units, say: Say) -> dict[str, Layouts]:
    """The layouts of all pictures of a lesson's plates, by what sets their ids apart."""
    return {
        place.prefix: layouts(place.panel, units, place.prefix, place.layout, say=say, stepped=place.stepped)
        for plate in plates
        for place in places_of(plate)
    }


class Place(NamedTuple):
    """Where a picture is on its lesson's page. prefix: sets its ids apart from those of others."""

    panel: Panel
    prefix: str
    layout: Layout
    stepped: bool


def places_of(plate: PlatePictures) -> Iterator[Place]:
    """A plate's pictures in their places."""
    layout: Layout = "opening" if plate.leads else "abreast" if plate.several else "page"
    for position, panel in enumerate(plate.panels, 1):
        own: Layout = "page" if panel in plate.between else layout
        yield Place(panel, f"{plate.id}-{position}", own, plate.kind == "strip")


def thumb(panel: Panel, book: PictureBook, prefix: str) -> Overlaid:
    """The square of a lesson, without letters."""
    svg = plate_svg(panel, THUMB, mirrored=panel.mirrored, thumb=True, ids_prefix=prefix)
    side = round(panel.crop[2] - panel.crop[0])
    return Overlaid(panel, book.of(shot_of(panel)), side, side, Layouts(svg, "", None, None), "square")


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
