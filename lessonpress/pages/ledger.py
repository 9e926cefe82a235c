"""The ledger: a lesson's measures as rows, and how each of them was measured."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from lessonpress.figures import BoundLesson, Plate, answer_words, pictures_of
from lessonpress.measure import Units
from lessonpress.overlays import Colour
from lessonpress.pages.prose import anchor_of
from lessonpress.pages.shown import Shown, shown
from lessonpress.records import Budget, Measure, Otherwise, Reading, differing, other_readings

_BARS = 6  # shares shown one by one; what is smaller is shown as one
SIDES = ("first", "second", "difference")
_DEFAULT_COLOUR: Colour = "black"


@dataclass(frozen=True)
class Bar:
    """One input's part of the variance, in whole per cent."""

    words: str
    percent: int


@dataclass(frozen=True)
class Row:
    """One measure as the ledger shows it. number is None where it was refused; then `refused` says why."""

    measure: Measure
    colour: Colour
    number: Shown | None
    plate: Plate | None  # on which it is printed
    label: str  # of that plate's panel or clip where it is taken, "" for a plate of one panel
    frames: tuple[tuple[int, ...], ...]  # of each picture it rests on
    answer: str
    bars: tuple[Bar, ...]
    answer_otherwise: Otherwise = ()
    refused_otherwise: Otherwise = ()
    worked_otherwise: Otherwise = ()  # the formula worked, in readings in which its lengths are others
    places: tuple[str, ...] = ()  # ids of where the page's text prints it

    @property
    def id(self) -> str:
        return self.measure.id

    @property
    def side(self) -> str:
        """Of a pair: "first", "second", "difference"; else ""."""
        side = self.measure.id.rpartition(".")[2]
        paired = self.plate is not None and self.plate.kind == "pair"
        return side if paired and side in SIDES else ""


@dataclass(frozen=True)
class PairRow:
    """One overlay of a pair: its measure on both pictures and the first minus the second."""

    first: Row | None
    second: Row | None
    difference: Row | None

    @property
    def named(self) -> Row:
        """The row that gives the line its letter and words."""
        return next(one for one in (self.first, self.second, self.difference) if one is not None)

    @property
    def unit(self) -> Markup:
        numbers = (one.number for one in (self.first, self.second, self.difference) if one is not None)
        return next((number.unit for number in numbers if number is not None), Markup())


def rows(bound: BoundLesson, units: Units, printed: Mapping[str, int] | None = None) -> tuple[Row, ...]:
    """All measures of the lesson in ledger order. printed: how often the page's text prints each."""
    return tuple(
        replace(row(measure, bound, units), places=_anchors(measure, printed or {}))
        for measure in bound.measures.values()
    )


def _anchors(measure: Measure, printed: Mapping[str, int]) -> tuple[str, ...]:
    return tuple(anchor_of(measure.id, number) for number in range(1, printed.get(measure.id, 0) + 1))


def rows_of(plate: Plate, bound: BoundLesson, units: Units) -> tuple[Row, ...]:
    """The measures a plate shows, in ledger order."""
    named = [bound.measures[name] for name in plate.measures if name in bound.measures]
    return tuple(row(measure, bound, units) for measure in named)


def pair_rows(plate: Plate, bound: BoundLesson, units: Units) -> tuple[PairRow, ...]:
    """The measures of a pair by overlay, sides and difference; None for what is not among them."""
    by_base: dict[str, dict[str, Row]] = {}
    for one in rows_of(plate, bound, units):
        base, _, side = one.id.rpartition(".")
        if side in SIDES:
            by_base.setdefault(base, {})[side] = one
    return tuple(PairRow(*(sides.get(side) for side in SIDES)) for sides in by_base.values())


def row(measure: Measure, bound: BoundLesson, units: Units) -> Row:
    plate = next((plate for plate in bound.plates if plate.id == measure.figure), None)
    return Row(
        measure=measure,
        plate=plate,
        label=_label(measure, plate),
        colour=bound.colours.get(measure.id, _DEFAULT_COLOUR),
        number=shown(measure, units),
        frames=tuple(frames for _, frames in pictures_of(measure, bound.measures)),
        answer=answer_words(measure),
        bars=bars(measure.budget),
        answer_otherwise=_otherwise(lambda reading: answer_words(measure, reading), units),
        refused_otherwise=_otherwise(lambda reading: _refused(measure, reading), units),
        worked_otherwise=_otherwise(lambda reading: _worked(measure, reading), units),
    )


def _otherwise(said: Callable[[Reading], str], units: Units) -> Otherwise:
    return differing(said(Reading(units)), [(reading, said(reading)) for reading in other_readings(units)])


def _refused(measure: Measure, reading: Reading) -> str:
    return (measure.refused_otherwise if reading.swapped else "") or measure.refused or ""


def _worked(measure: Measure, reading: Reading) -> str:
    budget = ((measure.turned or measure) if reading.turned else measure).budget
    if budget is None:
        return ""
    return (budget.worked_otherwise if reading.swapped else "") or budget.worked


def _label(measure: Measure, plate: Plate | None) -> str:
    """The panel of a strip whose overlay carries the measure; the clip of a chart that it was taken from."""
    if plate is not None and plate.chart is not None:
        own = (one for one in plate.chart.points if one.lesson is None)
        return next((point.label for point in own if point.measure.id == measure.id), "")
    if plate is None or len(plate.panels) == 1 or plate.kind == "pair":
        return ""
    carrying = (
        panel.label
        for panel in plate.panels
        if any(one.measure is not None and one.measure.id == measure.id for one in panel.drawn)
    )
    return next(carrying, "")


def bars(budget: Budget | None) -> tuple[Bar, ...]:
    """The largest shares of the variance one by one, the rest as one bar without words; none of nothing."""
    if budget is None:
        return ()
    every = [Bar(share.words, round(100 * share.share)) for share in budget.shares[:_BARS]]
    shown = [bar for bar in every if bar.percent]
    rest = round(100 * sum(share.share for share in budget.shares[len(shown) :]))
    return (*shown, Bar("", rest)) if rest else tuple(shown)
