"""A measure as the ledger prints it, from the survey's result."""

from __future__ import annotations

from dataclasses import dataclass

from lessonpress.figures.bind.expected import Expected
from lessonpress.figures.words.narrower import worth_saying
from lessonpress.measure import At, Measured, Refusal, Units, in_print, unit_of
from lessonpress.records import Axis, Dimension, Measure


@dataclass(frozen=True)
class LedgerEntry:
    """What a row of the ledger says besides its number."""

    id: str
    kind: str
    dimension: Dimension
    figure: str
    letter: str
    clip: str
    plane: str
    axis: Axis | None
    since: str | None
    points: tuple[At, ...]
    name: str
    expected: Expected | None


def ledger_measure(entry: LedgerEntry, measured: Measured | Refusal, units: Units) -> Measure:
    """The row, in the units of print."""
    if isinstance(measured, Refusal):
        return _refused(entry, measured, units)

    def printed(value: float) -> float:
        return in_print(value, measured.dimension, units)

    return Measure(
        id=entry.id,
        kind=entry.kind,
        dimension=measured.dimension,
        figure=entry.figure,
        letter=entry.letter,
        clips=(entry.clip,),
        value=printed(measured.value),
        uncertainty=printed(measured.uncertainty),
        k=measured.k,
        low=printed(measured.low),
        high=printed(measured.high),
        unit=unit_of(measured.dimension, units),
        axis=measured.axis,
        way=measured.way,
        plane=measured.plane,
        frames=measured.frames,
        since=entry.since,
        marks=measured.marks,
        assumed=measured.assumed,
        expect=entry.expected.text if entry.expected else None,
        answer=entry.expected.answer(measured) if entry.expected else None,
        refused=None,
        way_out=None,
        words=entry.name,
        budget=measured.budget,
        narrower=worth_saying(measured, units),
    )


def _refused(entry: LedgerEntry, refusal: Refusal, units: Units) -> Measure:
    return Measure(
        id=entry.id,
        kind=entry.kind,
        dimension=entry.dimension,
        figure=entry.figure,
        letter=entry.letter,
        clips=(entry.clip,),
        value=None,
        uncertainty=None,
        k=None,
        low=None,
        high=None,
        unit=unit_of(entry.dimension, units),
        axis=entry.axis,
        way="",
        plane=entry.plane,
        frames=tuple(sorted({at.frame for at in entry.points})),
        since=entry.since,
        marks=tuple(dict.fromkeys(at.mark for at in entry.points)),
        assumed=(),
        expect=entry.expected.text if entry.expected else None,
        answer=None,
        refused=refusal.reason,
        way_out=refusal.way_out,
        words=entry.name,
        budget=None,
        refused_otherwise=refusal.otherwise,
    )


def refused_for(reason: str) -> str:
    """The cause that all problems of measures which are refused for one reason share."""
    return f"refused: {reason}"
