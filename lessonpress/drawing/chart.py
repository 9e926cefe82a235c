"""One measure over time: a dot for each number, its ± as a band true to scale, dates below."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from lessonpress.drawing.paper import FAMILY, Element, circle, group, inline, n, path, rect, sheet, text
from lessonpress.drawing.saying import Say, as_said
from lessonpress.drawing.tags.faces import text_width
from lessonpress.figures import Chart, Lettered, lettered
from lessonpress.measure import SIZE_OF_UNIT, Units

HEIGHT = 280.0  # CSS px
LEFT = 46.0  # room for the numbers of the scale
RIGHT = 20.0
TOP = 54.0  # room for the directions of a signed measure
BOTTOM = 40.0
INDENT = 24.0  # from the scale to the first dot, and from the last to the edge
SIZE = 13.0
BAND = 12.0  # width of a band; its height is the measure's ±
DOT = 4.0
GAP = 8.0  # between two pieces of lettering
MOST_STEPS = 6
HEADROOM = 0.12  # of the range, above and below all bands


@dataclass(frozen=True)
class _Spot:
    """A number where it is drawn. value: positive upward; low, high: y of the ends of its ±."""

    value: float
    x: float
    y: float
    low: float
    high: float
    said: Lettered
    on: date


@dataclass(frozen=True)
class _Scale:
    """From a number to its y. step: between two rules; first, last: multiples of it in sight."""

    bottom: float
    top: float
    step: float

    def y(self, value: float) -> float:
        share = (value - self.bottom) / (self.top - self.bottom)
        return HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM)

    def rules(self) -> Iterator[float]:
        first, last = math.ceil(self.bottom / self.step), math.floor(self.top / self.step)
        return (k * self.step for k in range(first, last + 1))


def chart_svg(
    chart: Chart, width: float, units: Units, date_words: Callable[[date], str], say: Say = as_said
) -> str:
    """The chart laid out for `width` CSS px, for a page, beside the table of its numbers.

    Days are to scale along it. date_words: how a date is lettered; say: the ways in the page's
    language. Where numbers or dates would run into each other some are left to the table, the last and the
    first being kept. It is drawn in currentColor, with the classes band, dot, rule, value, pm, way, scale and
    date for a style sheet.
    """
    drawing = sheet(width, HEIGHT, sized=False)
    for element in chart_elements(chart, width, units, date_words, say):
        drawing.add(element)
    return inline(drawing, "chart")


def chart_elements(
    chart: Chart, width: float, units: Units, date_words: Callable[[date], str], say: Say = as_said
) -> list[Element]:
    """What the chart is drawn of, `HEIGHT` CSS px high. ValueError where no number of it was measured.

    Numbers are lettered without sign, so where all of them go the negative way that way is drawn upward: more
    is always higher. Where they go in both directions, up is positive and the scale has no signs.
    """
    said = [(point, lettered(point.measure, units)) for point in chart.points]
    shown = [(point, number) for point, number in said if number is not None]
    if not shown:
        raise ValueError("a chart needs a number that was measured")
    signed = [_in_units(point.measure.value, point.measure.unit, number) for point, number in shown]
    upward = -1.0 if min(signed) < 0 and max(signed) <= 0 else 1.0
    values = [upward * value for value in signed]
    pms = [_in_units(point.measure.uncertainty, point.measure.unit, number) for point, number in shown]
    scale = _scale(values, pms)
    days = [point.on for point, _ in shown]
    spots = [
        _Spot(
            value, _x(day, days, width), scale.y(value), scale.y(value - pm), scale.y(value + pm), number, day
        )
        for day, value, pm, (_, number) in zip(days, values, pms, shown, strict=True)
    ]
    return [_rules(scale, width), _dots(spots), _lettering(scale, spots, width, date_words, say)]


def _in_units(number: float | None, unit: str | None, said: Lettered) -> float:
    """A number of a measure in the unit that it is lettered in."""
    assert number is not None  # a measure that letters has both of them
    return number * SIZE_OF_UNIT[unit or ""] / SIZE_OF_UNIT[said.unit]


def _scale(values: Sequence[float], pms: Sequence[float]) -> _Scale:
    """A scale that holds every band with some room, ruled at steps of 1, 2 or 5 times a power of ten."""
    low = min(value - pm for value, pm in zip(values, pms, strict=True))
    high = max(value + pm for value, pm in zip(values, pms, strict=True))
    room = HEADROOM * (high - low)
    low, high = low - room, high + room
    power = 10.0 ** math.floor(math.log10((high - low) / MOST_STEPS))
    step = next(m * power for m in (1.0, 2.0, 5.0, 10.0) if (high - low) / (m * power) <= MOST_STEPS)
    return _Scale(low, high, step)


def _x(day: date, days: Sequence[date], width: float) -> float:
    """Where a day lies; all on one day lie in the middle."""
    left, right = LEFT + INDENT, width - RIGHT - INDENT
    span = (max(days) - min(days)).days
    share = (day - min(days)).days / span if span else 0.5
    return left + share * (right - left)


def _rules(scale: _Scale, width: float) -> Element:
    """A hairline at each step, a full line at zero and at the foot."""
    levels = [value for value in scale.rules() if abs(value) > scale.step / 2]
    d = "".join(f"M{n(LEFT)} {n(scale.y(value))}H{n(width)}" for value in levels)
    elements = (
        [path(d, stroke="currentColor", stroke_width=1, stroke_opacity=0.25, class_="rule")] if d else []
    )
    strong = [HEIGHT - BOTTOM] + ([scale.y(0.0)] if scale.bottom < 0 < scale.top else [])
    firm = "".join(f"M{n(LEFT)} {n(y)}H{n(width)}" for y in strong)
    return group([*elements, path(firm, stroke="currentColor", stroke_width=1.25)], fill="none")


def _dots(spots: Sequence[_Spot]) -> Element:
    bands = [
        rect((s.x - BAND / 2, s.high), BAND, s.low - s.high, fill_opacity=0.3, class_="band") for s in spots
    ]
    ticks = "".join(f"M{n(s.x)} {n(HEIGHT - BOTTOM)}v5" for s in spots)
    feet = path(ticks, stroke="currentColor", stroke_width=1.25, fill="none")
    return group([*bands, feet, *(circle(DOT, (s.x, s.y), class_="dot") for s in spots)], fill="currentColor")


def _lettering(
    scale: _Scale, spots: Sequence[_Spot], width: float, date_words: Callable[[date], str], say: Say
) -> Element:
    ways = [say(words) for words in _ways(spots)]
    elements = [
        text(
            _level(abs(value) if len(ways) > 1 else value, scale.step),
            (LEFT - GAP, scale.y(value) + 4.5),
            text_anchor="end",
            class_="scale",
        )
        for value in scale.rules()
    ]
    elements += [text(words, (LEFT, 14 + 17 * k), class_="way") for k, words in enumerate(ways)]
    elements += _numbers(spots, width)
    elements += _dates(spots, width, date_words)
    return group(elements, font_family=FAMILY, font_size=n(SIZE), font_weight=500, fill="currentColor")


def _level(value: float, step: float) -> str:
    decimals = max(0, -math.floor(math.log10(step)))
    return f"{value:.{decimals}f}".replace("-", "−")


def _ways(spots: Sequence[_Spot]) -> list[str]:
    """What up and down mean, since the numbers of a signed measure are lettered without sign."""
    above = next((spot.said.way for spot in spots if spot.value > 0 and spot.said.way), "")
    below = next((spot.said.way for spot in spots if spot.value < 0 and spot.said.way), "")
    if above and below:
        return [f"above 0: {above}", f"below 0: {below}"]
    return [above or below] if above or below else []


def _ends_first(count: int) -> list[int]:
    """Last, first, then the others in order."""
    return list(dict.fromkeys([count - 1, 0, *range(count)]))


def _numbers(spots: Sequence[_Spot], width: float) -> Iterator[Element]:
    """Value and ± above the bands: last, first, and the others that lie clear over their own."""
    taken: list[tuple[float, float, float, float]] = []
    for count, spot in enumerate(spots[k] for k in _ends_first(len(spots))):
        value, pm = spot.said.value, f"±{spot.said.pm}"
        wide = text_width(value, SIZE, 650) + 4 + text_width(pm, 12.5, 500)
        left = min(max(spot.x - wide / 2, LEFT), width - wide)
        under = [s for s in spots if s.x + BAND / 2 > left - 2 and s.x - BAND / 2 < left + wide + 2]
        foot = min(s.high for s in under) - 6
        box = (left, foot - SIZE, left + wide, foot)
        if any(_meet(box, other) for other in taken) or (count > 1 and foot < spot.high - 6):
            continue
        taken.append(box)
        yield text(value, (left, foot - 2), font_weight=600, class_="value")
        yield text(pm, (left + wide, foot - 2), font_size="12.5", text_anchor="end", class_="pm")


def _meet(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    return a[0] < b[2] + 4 and a[2] > b[0] - 4 and a[1] < b[3] + 2 and a[3] > b[1] - 2


def _dates(spots: Sequence[_Spot], width: float, date_words: Callable[[date], str]) -> Iterator[Element]:
    taken: list[tuple[float, float]] = []
    for spot in (spots[k] for k in _ends_first(len(spots))):
        words = date_words(spot.on)
        wide = text_width(words, SIZE, 500)
        left = min(max(spot.x - wide / 2, 0.0), width - wide)
        if all(left >= end + GAP or left + wide <= start - GAP for start, end in taken):
            taken.append((left, left + wide))
            yield text(words, (left, HEIGHT - BOTTOM + 22), class_="date")
