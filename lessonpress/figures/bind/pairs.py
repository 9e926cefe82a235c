"""A pair: two pictures at one scale on one baseline, and what differs between them, first minus second."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lessonpress.figures.bind.crop import MARGIN, RATIO
from lessonpress.figures.bind.panels import LessonContext
from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.figures.plates import Panel
from lessonpress.figures.words.ledger import LedgerEntry, ledger_measure
from lessonpress.figures.words.printing import text_of
from lessonpress.measure import ALIKE, At, Measured, Refusal, difference, way
from lessonpress.records import Measure, Otherwise, PictureBox, Point, Reading, differing, other_readings

FEET = ("lead-heel", "trail-heel", "lead-toe", "trail-toe", "lead-ankle", "trail-ankle")


@dataclass(frozen=True)
class Difference:
    """The measure of a difference, and in words how the first compares with the second, in every reading."""

    measure: Measure
    sentence: str
    otherwise: Otherwise


@dataclass(frozen=True)
class _Reach:
    """How far something reaches from a foot point, m: to each side, up and down. scale: px a metre."""

    foot: Point
    scale: float
    side: float
    up: float
    down: float

    def box(self, side: float, up: float, down: float) -> PictureBox:
        """Whole px about the foot point."""
        x, y = self.foot
        left, top = round(x - side * self.scale), round(y - up * self.scale)
        width, height = round(2 * side * self.scale), round((up + down) * self.scale)
        return (float(left), float(top), float(left + width), float(top + height))


def crops(
    sides: Sequence[tuple[SurveyedClip, int]], hulls: Sequence[Sequence[Point]]
) -> tuple[PictureBox, ...] | None:
    """The crops that show both swings at one scale on one baseline; None where a side has no scale.

    sides: clip and frame of each. hulls: the points that each crop must hold, px.
    """
    wanted = [_wanted(filmed, frame, hull) for (filmed, frame), hull in zip(sides, hulls, strict=True)]
    if any(one is None for one in wanted):
        return None
    reaches = [one for one in wanted if one is not None]
    room = [_room(one, filmed.index.size) for one, (filmed, _) in zip(reaches, sides, strict=True)]
    most = replace(
        room[0], side=min(r.side for r in room), up=min(r.up for r in room), down=min(r.down for r in room)
    )
    side, up = max(r.side for r in reaches), max(r.up for r in reaches)
    down = min(max(r.down for r in reaches), most.down)
    side = min(max(side, (up + down) * RATIO / 2), most.side)
    up = min(max(up, 2 * side / RATIO - down), most.up)
    return tuple(one.box(side, up, down) for one in reaches)


def _wanted(filmed: SurveyedClip, frame: int, hull: Sequence[Point]) -> _Reach | None:
    scale = filmed.survey.px_per_metre()
    if scale is None or not hull:
        return None
    xs, ys = [x for x, _ in hull], [y for _, y in hull]
    feet = [filmed.survey.position(At(mark, frame)) for mark in FEET if filmed.sees(mark, frame)]
    foot = ((min(xs) + max(xs)) / 2, max(y for _, y in feet) if feet else max(ys))
    margin = MARGIN * max(max(xs) - min(xs), max(ys) - min(ys))
    return _Reach(
        foot,
        scale,
        side=((max(xs) - min(xs)) / 2 + margin) / scale,
        up=(foot[1] - min(ys) + margin) / scale,
        down=(max(ys) - foot[1] + margin) / scale,
    )


def _room(reach: _Reach, size: tuple[int, int]) -> _Reach:
    """How far the picture itself reaches from the foot point."""
    x, y = reach.foot
    return replace(
        reach,
        side=min(x, size[0] - x) / reach.scale,
        up=y / reach.scale,
        down=(size[1] - y) / reach.scale,
    )


def differences(plate: str, panels: Sequence[Panel], shared: LessonContext) -> tuple[Difference, ...]:
    """First minus second for every number that both pictures carry."""
    first, second = panels
    by_id = {drawn.measure.id: drawn.measure for drawn in second.drawn if drawn.measure is not None}
    made = []
    for drawn in first.drawn:
        mine = drawn.measure
        if mine is None:
            continue
        name = mine.id.removesuffix(".first")
        theirs = by_id.get(f"{name}.second")
        if theirs is not None:
            made.append(_difference(name, plate, mine, theirs, shared))
    return tuple(made)


def pictures_of(measure: Measure, measures: Mapping[str, Measure]) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """Clip and frames of each picture that one of `measures` rests on: a pair's difference has two."""
    name, _, side = measure.id.rpartition(".")
    sides = [measures.get(f"{name}.{one}") for one in ("first", "second")]
    taken = [one for one in sides if one is not None] if side == "difference" else []
    return tuple((", ".join(one.clips), one.frames) for one in taken or [measure])


def _difference(name: str, plate: str, mine: Measure, theirs: Measure, shared: LessonContext) -> Difference:
    measure, outcome = _subtracted(name, plate, mine, theirs, shared, shared.measured)
    sentence = f"{mine.words}: {_sentence(outcome, measure, mine, theirs, Reading(shared.units))}."
    turned = measure, outcome
    sides = mine, theirs
    if mine.turned is not None and theirs.turned is not None:
        sides = mine.turned, theirs.turned
        turned = _subtracted(name, plate, *sides, shared, shared.turned)
        measure = replace(measure, turned=turned[0])
    said = []
    for reading in other_readings(shared.units):
        compared, of = (turned, sides) if reading.turned else ((measure, outcome), (mine, theirs))
        said.append((reading, f"{mine.words}: {_sentence(compared[1], compared[0], *of, reading)}."))
    return Difference(measure, sentence, differing(sentence, said))


def _subtracted(
    name: str,
    plate: str,
    mine: Measure,
    theirs: Measure,
    shared: LessonContext,
    measured: Mapping[str, Measured],
) -> tuple[Measure, Measured | Refusal]:
    """The row of the difference, and what it is made of. measured: what the surveys answered, by id."""
    outcome = _taken(measured.get(mine.id), measured.get(theirs.id), mine, theirs)
    entry = LedgerEntry(
        id=f"{name}.difference",
        kind=mine.kind,
        dimension=mine.dimension,
        figure=plate,
        letter=mine.letter,
        clip=mine.clips[0],
        plane=mine.plane,
        axis=mine.axis,
        since=mine.since,
        points=(),
        name=f"{mine.words}, first less second",
        expected=None,
    )
    measure = replace(
        ledger_measure(entry, outcome, shared.units),
        clips=tuple(dict.fromkeys((*mine.clips, *theirs.clips))),
        frames=(*mine.frames, *theirs.frames),
        marks=mine.marks,
        way=_way(outcome, mine),
    )
    return measure, outcome


def _way(outcome: Measured | Refusal, mine: Measure) -> str:
    """A signed measure's difference has a way too: the one in which the first exceeds the second."""
    if isinstance(outcome, Refusal) or not mine.way:
        return ""
    return way(outcome.value, outcome.axis, outcome.goal)


def _taken(
    one: Measured | None, other: Measured | None, mine: Measure, theirs: Measure
) -> Measured | Refusal:
    if one is None or other is None:
        side, refused = ("first", mine) if one is None else ("second", theirs)
        return Refusal(f"the {side} picture has no number: {refused.refused}", refused.way_out or "")
    return difference(one, other)


def _sentence(
    outcome: Measured | Refusal, measure: Measure, mine: Measure, theirs: Measure, reading: Reading
) -> str:
    """Larger, smaller or not distinguishable; of numbers in opposite directions, how far they are apart."""
    if isinstance(outcome, Refusal):
        return "not compared"
    if outcome.way == ALIKE:
        return "not distinguishable at this uncertainty"
    size = text_of(replace(measure, way=measure.way or "more"), "size", reading)
    if mine.way != theirs.way:
        return f"the first goes {size} further {measure.way}"
    larger = abs(mine.value or 0.0) > abs(theirs.value or 0.0)
    return f"the first is {'larger' if larger else 'smaller'} by {size}"
