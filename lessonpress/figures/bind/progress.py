"""A progress figure: one measure over dated clips or lessons, with its uncertainty at every point."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from lessonpress.figures.plan.fields import ProgressFields
from lessonpress.figures.plan.planned import Planned
from lessonpress.figures.plates import BoundLesson, Chart, ChartPoint, Panel
from lessonpress.figures.words.credits import credit_of
from lessonpress.manuscript import Card, Clip
from lessonpress.records import Location, Measure, Problems, nearest


def over_clips(planned: Planned, panels: Sequence[Panel], problems: Problems) -> Chart | None:
    """The chart of one overlay's measure on each clip; None where fewer than two have one."""
    points = []
    for number, (at, panel) in enumerate(zip(planned.panels, panels, strict=True)):
        measures = [drawn.measure for drawn in panel.drawn if drawn.measure is not None]
        if measures:
            location = planned.fields.location_of("clips", number)
            points.append(_point(panel.title, at.filmed.card, measures[0], None, location, problems))
    cards = [at.filmed.card for at in planned.panels]
    _check_alike(cards, planned.fields.location_of("clips"), problems)
    return _chart([point for point in points if point is not None], cards, planned, problems)


def over_lessons(
    planned: Planned,
    bound: Mapping[str, BoundLesson],
    clips: Mapping[str, Clip],
    problems: Problems,
) -> Chart | None:
    """The chart of one measure, by its id, in each lesson. bound: lessons by name; clips: the site's."""
    fields = planned.fields
    assert isinstance(fields, ProgressFields) and fields.measure is not None
    points, used = [], []
    for number, name in enumerate(fields.over):
        location = fields.location_of("over", number)
        measure = _measure_of(name, fields.measure, bound, location, problems)
        card = clips[measure.clips[0]].card if measure is not None else None
        if measure is None or card is None:
            continue
        used.append(card)
        title = bound[name].lesson.title
        points.append(_point(title, card, measure, name, location, problems))
    _check_alike(used, fields.location_of("over"), problems)
    return _chart([point for point in points if point is not None], used, planned, problems)


def _measure_of(
    lesson: str, measure: str, bound: Mapping[str, BoundLesson], location: Location, problems: Problems
) -> Measure | None:
    if lesson not in bound:
        problems.error(location, f"there is no lesson `{lesson}`", nearest=nearest(lesson, bound))
        return None
    if bound[lesson].lesson.private:
        wrong = f"the lesson {lesson} is for one person, and a chart would lead there"
        problems.error(location, wrong, "chart its clips instead, with `clips`, `at` and one overlay")
        return None
    measure_there = bound[lesson].named.get(measure)
    if measure_there is None:
        near = nearest(measure, bound[lesson].named)
        problems.error(location, f"the lesson {lesson} has no measure `{measure}`", nearest=near)
    return measure_there


def _point(
    label: str, card: Card, measure: Measure, lesson: str | None, location: Location, problems: Problems
) -> ChartPoint | None:
    if card.filmed_on is None:
        right = "write `filmed_on: 2026-10-12` there"
        problems.error(location, f"the card of {measure.clips[0]} does not say when it was filmed", right)
        return None
    if measure.value is None:
        problems.warn(location, f"{label} has no number here: {measure.refused}", measure.way_out or "")
        return None
    return ChartPoint(label, card.filmed_on, measure, lesson)


def _check_alike(cards: Sequence[Card], location: Location, problems: Problems) -> None:
    """Views must agree, since a number seen face-on is not one seen down the line; implements should."""
    views = dict.fromkeys(card.view for card in cards)
    if len(views) > 1:
        problems.error(location, f"views are mixed: {', '.join(views)}", "follow clips of one view")
    implements = dict.fromkeys(card.implement for card in cards if card.implement)
    if len(implements) > 1:
        problems.warn(
            location, f"implements are mixed: {', '.join(implements)}", "what changes may be the implement"
        )


def _chart(
    points: Sequence[ChartPoint], cards: Sequence[Card], planned: Planned, problems: Problems
) -> Chart | None:
    if len(points) < 2:
        if not problems.errors:
            problems.error(
                planned.block.location, "a progress needs two numbers or more", "add lessons or clips"
            )
        return None
    first = points[0].measure
    return Chart(
        name=first.words,
        unit=first.unit or "",
        points=tuple(sorted(points, key=lambda point: (point.on, point.label))),
        credits=tuple(dict.fromkeys(credit_of(card.source) for card in cards)),
    )


def alt_of(chart: Chart) -> str:
    """What the chart shows, in a breath: from when to when, the first and the last number."""
    first, last = chart.points[0], chart.points[-1]
    return (
        f"{chart.name} over {len(chart.points)} swings, from {first.on:%-d %B %Y} to {last.on:%-d %B %Y}. "
        "Each number is in the table below."
    )
