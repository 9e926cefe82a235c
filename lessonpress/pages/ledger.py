"""The ledger: a lesson's measures as rows, and how each of them was measured."""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.figures.plates import BoundLesson, Plate
from lessonpress.measure.units import Units
from lessonpress.overlays.shapes import Colour
from lessonpress.pages.numbers import Lettered, answer_words, lettered
from lessonpress.records.measure import Budget, Measure

_BARS = 6  # shares shown one by one; what is smaller is told as one
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
    number: Lettered | None
    frames: tuple[int, ...]
    answer: str
    bars: tuple[Bar, ...]

    @property
    def id(self) -> str:
        return self.measure.id


def rows(bound: BoundLesson, units: Units) -> tuple[Row, ...]:
    """All measures of the lesson in ledger order."""
    return tuple(row(measure, bound, units) for measure in bound.measures.values())


def rows_of(plate: Plate, bound: BoundLesson, units: Units) -> tuple[Row, ...]:
    """The measures a plate shows, in ledger order."""
    named = [bound.measures[name] for name in plate.measures if name in bound.measures]
    return tuple(row(measure, bound, units) for measure in named)


def row(measure: Measure, bound: BoundLesson, units: Units) -> Row:
    return Row(
        measure=measure,
        colour=bound.colours.get(measure.id, _DEFAULT_COLOUR),
        number=lettered(measure, units),
        frames=measure.frames,
        answer=answer_words(measure),
        bars=bars(measure.budget),
    )


def emblem_measure(bound: BoundLesson) -> Measure | None:
    """The one number that stands for a lesson in lists: the first that the author named, else the first there is."""
    told = [measure for measure in bound.measures.values() if measure.value is not None]
    return next((measure for measure in told if "." not in measure.id), next(iter(told), None))


def bars(budget: Budget | None) -> tuple[Bar, ...]:
    """The largest shares of the variance one by one, the rest as one bar without words."""
    if budget is None:
        return ()
    shown, rest = budget.shares[:_BARS], budget.shares[_BARS:]
    told = [Bar(share.words, round(100 * share.share)) for share in shown]
    if rest:
        told.append(Bar("", round(100 * sum(share.share for share in rest))))
    return tuple(told)
