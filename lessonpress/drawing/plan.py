"""A swing from above: feet, hips, shoulders, hands and club with their ± as ellipses, an instant a field.

Drawn in ink, forms telling what is what: shoulders a whole line, hips a broken one, the club a thin one from
a ring, which is the hands, to a disc, the clubhead. All fields are at one scale, with the target to the side
on which it is in a picture from face on, and the ball below.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from lessonpress.drawing.paper import FAMILY, Element, circle, group, inline, n, path, sheet, text, way
from lessonpress.drawing.saying import Say, as_said
from lessonpress.drawing.tags.faces import text_width
from lessonpress.figures import FloorPlan, Moment
from lessonpress.measure import Spot, Units
from lessonpress.records import Point

NARROWEST = 160.0  # CSS px of a field: more of them go into further rows
HEAD, MARGIN, GAP = 22.0, 10.0, 12.0  # of a field: its label, its edge, to the next
ROOM = 0.08  # m about what is farthest out
LEAST = 0.9  # m across a field, at least
SIZE = 13.0
ARROW, SCALE_ROW, KEY_ROW = 26.0, 34.0, 20.0
BAR: Mapping[Units, tuple[float, str]] = {"in": (0.3048, "1 ft"), "cm": (0.3, "30 cm")}
FOOT_WIDE = 0.045  # m, half of a shoe
KINDS = ("shoulders", "hips", "hands", "clubhead", "holds its point in 95 of 100")
HANDS = ("implement-grip", "lead-wrist", "trail-wrist")
HEADS = ("implement-head",)


@dataclass(frozen=True)
class _Field:
    """Where a moment is drawn. left, top: of its field, CSS px; side, high: its size; px: a metre."""

    left: float
    top: float
    side: float
    high: float
    px: float
    target: int
    middle: Point

    def at(self, place: Point) -> Point:
        """A point of the plan, m toward the target and toward the ball, in the drawing."""
        x = self.left + self.side / 2 + self.target * (place[0] - self.middle[0]) * self.px
        return x, self.top + HEAD + (self.high - HEAD) / 2 + (place[1] - self.middle[1]) * self.px


def plan_svg(plan: FloorPlan, width: float, units: Units, say: Say = as_said) -> str:
    """The plan laid out for `width` CSS px, for a page.

    It is drawn in currentColor, with the classes band (an ellipse), line, label and key for a style sheet.
    """
    drawing = sheet(width, plan_height(plan, width), sized=False)
    for element in plan_elements(plan, width, units, say):
        drawing.add(element)
    return inline(drawing, "chart floor")


def plan_height(plan: FloorPlan, width: float) -> float:
    """CSS px that the plan is high at a width."""
    fields = _fields(plan, width)
    return max(field.top + field.high for field in fields) + SCALE_ROW + KEY_ROW * len(_keys(width))


def plan_elements(plan: FloorPlan, width: float, units: Units, say: Say = as_said) -> list[Element]:
    """What the plan is drawn of, `plan_height` CSS px high."""
    fields = _fields(plan, width)
    drawn = [_moment(moment, field, say) for moment, field in zip(plan.moments, fields, strict=True)]
    foot = max(field.top + field.high for field in fields)
    return [
        _arrow(plan.target, width, say),
        *drawn,
        *_scale(fields[0], foot, units),
        _legend(foot, width, say),
    ]


def _fields(plan: FloorPlan, width: float) -> list[_Field]:
    """One a moment, in as many rows as they need, all at the scale of the widest."""
    across = max(1, min(len(plan.moments), int((width + GAP) // (NARROWEST + GAP))))
    side = (width - GAP * (across - 1)) / across
    left, right, near, far = _extent(plan)
    wide, deep = max(right - left, LEAST), far - near
    px = (side - 2 * MARGIN) / wide
    high = HEAD + deep * px
    middle = (left + right) / 2, (near + far) / 2
    return [
        _Field(
            (number % across) * (side + GAP),
            ARROW + (number // across) * (high + GAP),
            side,
            high,
            px,
            plan.target,
            middle,
        )
        for number in range(len(plan.moments))
    ]


def _extent(plan: FloorPlan) -> tuple[float, float, float, float]:
    """The least and the most toward the target, and toward the ball, of all ellipses, m."""
    spots = [spot for moment in plan.moments for spot in moment.spots]
    reach = [(spot.at, spot.ellipse[0] + ROOM) for spot in spots] or [((0.0, 0.0), LEAST / 2)]
    xs = [place[0] + sign * far for place, far in reach for sign in (-1, 1)]
    zs = [place[1] + sign * far for place, far in reach for sign in (-1, 1)]
    return min(xs), max(xs), min(zs), max(zs)


def _moment(moment: Moment, field: _Field, say: Say) -> Element:
    spots = {spot.mark: spot for spot in moment.spots}
    hands = _hands(spots)
    shod = [side for side in ("trail", "lead") if {f"{side}-heel", f"{side}-toe"} <= spots.keys()]
    hidden = {*HANDS, *(f"{side}-ankle" for side in shod)} - {hands}
    bands = [_ellipse(spot, field) for spot in moment.spots if spot.mark not in hidden]
    edge = path(
        f"M{n(field.left)} {n(field.top + HEAD)}h{n(field.side)}",
        stroke="currentColor",
        stroke_width=1,
        stroke_opacity=0.25,
        fill="none",
    )
    label = text(
        say(moment.label),
        (field.left, field.top + 14),
        class_="label",
        font_family=FAMILY,
        font_size=n(SIZE),
        font_weight=600,
        fill="currentColor",
    )
    return group([edge, label, *bands, *_feet(spots, field), *_lines(spots, field), *_club(spots, field)])


def _hands(spots: Mapping[str, Spot]) -> str:
    """Both wrists and the grip are one pair of hands: the first of them that is there, "" for none."""
    return next((mark for mark in HANDS if mark in spots), "")


def _ellipse(spot: Spot, field: _Field) -> Element:
    """The ellipse of a mark: a band, which means ±."""
    long, short, turn = spot.ellipse
    x, y = field.at(spot.at)
    a, b = max(long * field.px, 0.5), max(short * field.px, 0.5)
    turned = math.radians(turn)
    dx, dy = field.target * math.cos(turned) * a, math.sin(turned) * a
    angle = math.degrees(math.atan2(dy, dx))
    ends = f"A{n(a)} {n(b)} {n(angle)} 1 1"
    d = f"M{n(x - dx)} {n(y - dy)}{ends} {n(x + dx)} {n(y + dy)}{ends} {n(x - dx)} {n(y - dy)}Z"
    return path(d, fill="currentColor", fill_opacity=0.3, class_="band")


def _feet(spots: Mapping[str, Spot], field: _Field) -> Iterator[Element]:
    """Each a shoe from heel to toe, or a short stroke at the ankle where only that is known."""
    for side in ("trail", "lead"):
        heel, toe = spots.get(f"{side}-heel"), spots.get(f"{side}-toe")
        if heel is not None and toe is not None:
            yield _shoe(field.at(heel.at), field.at(toe.at), FOOT_WIDE * field.px)
        elif (ankle := spots.get(f"{side}-ankle")) is not None:
            yield circle(FOOT_WIDE * field.px, field.at(ankle.at), **_PEN)


_PEN = {"stroke": "currentColor", "stroke_width": 1.25, "fill": "none"}


def _shoe(heel: Point, toe: Point, half: float) -> Element:
    """A long round form about the line from heel to toe."""
    x, y = toe[0] - heel[0], toe[1] - heel[1]
    length = math.hypot(x, y) or 1.0
    aside = (-y / length * half, x / length * half)
    (ax, ay), (bx, by) = heel, toe
    arc = f"A{n(half)} {n(half)} 0 0 1"
    d = (
        f"M{n(ax + aside[0])} {n(ay + aside[1])}{arc} {n(ax - aside[0])} {n(ay - aside[1])}"
        f"L{n(bx - aside[0])} {n(by - aside[1])}{arc} {n(bx + aside[0])} {n(by + aside[1])}Z"
    )
    return path(d, **_PEN)


def _lines(spots: Mapping[str, Spot], field: _Field) -> Iterator[Element]:
    for part, dash in (("hip", "7 4"), ("shoulder", "")):
        ends = [spots.get(f"{side}-{part}") for side in ("trail", "lead")]
        places = [field.at(end.at) for end in ends if end is not None]
        if len(places) == 2:
            yield _line(places[0], places[1], 2.8, dash)
        yield from (circle(3.2, place, fill="currentColor") for place in places)


def _line(start: Point, end: Point, wide: float, dash: str = "") -> Element:
    more = {"stroke_dasharray": dash} if dash else {}
    d = f"M{n(start[0])} {n(start[1])}L{n(end[0])} {n(end[1])}"
    return path(d, stroke="currentColor", stroke_width=wide, fill="none", class_="line", **more)


def _club(spots: Mapping[str, Spot], field: _Field) -> Iterator[Element]:
    hands = spots.get(_hands(spots))
    head = next((spots[mark] for mark in HEADS if mark in spots), None)
    if hands is not None and head is not None:
        yield _line(field.at(hands.at), field.at(head.at), 1.6)
    if hands is not None:
        yield circle(5.0, field.at(hands.at), stroke="currentColor", stroke_width=2, fill="none")
    if head is not None:
        yield circle(4.0, field.at(head.at), fill="currentColor")


def _arrow(target: int, width: float, say: Say) -> Element:
    """Which way the target is, at the upper edge."""
    words = say("toward the target")
    wide = text_width(words, SIZE, 500)
    y, tip = 11.0, width - 2 if target > 0 else 2.0
    back = tip - target * 46
    barb = way([(tip - target * 9, y - 4), (tip, y), (tip - target * 9, y + 4)])
    at = back - target * 8 - (wide if target > 0 else 0)
    return group(
        [path(f"M{n(back)} {n(y)}H{n(tip)}{barb}", **_PEN), _word(words, (at, y + 4.5))],
    )


def _word(words: str, at: Point) -> Element:
    return text(
        words,
        at,
        class_="key",
        font_family=FAMILY,
        font_size=n(SIZE),
        font_weight=500,
        fill="currentColor",
    )


def _scale(field: _Field, foot: float, units: Units) -> Iterator[Element]:
    """A bar as long as a foot or 30 cm on the floor."""
    length, words = BAR[units]
    y, right = foot + 18, length * field.px + 1
    yield path(f"M1 {n(y - 4)}v8M1 {n(y)}H{n(right)}M{n(right)} {n(y - 4)}v8", **_PEN)
    yield _word(words, (right + 8, y + 4.5))


def _keys(width: float) -> list[list[tuple[str, float]]]:
    """Rows of what is said of each form, with the x at which each begins."""
    rows: list[list[tuple[str, float]]] = [[]]
    x = 0.0
    for kind in KINDS:
        wide = 34 + text_width(kind, SIZE, 500) + 18
        if rows[-1] and x + wide > width:
            rows.append([])
            x = 0.0
        rows[-1].append((kind, x))
        x += wide
    return rows


def _legend(foot: float, width: float, say: Say) -> Element:
    elements: list[Element] = []
    for number, row in enumerate(_keys(width)):
        y = foot + SCALE_ROW + KEY_ROW * number + 6
        for kind, x in row:
            elements += [*_form(kind, x, y), _word(say(kind), (x + 32, y + 4.5))]
    return group(elements)


def _form(kind: str, x: float, y: float) -> Iterator[Element]:
    if kind in ("shoulders", "hips"):
        yield _line((x + 1, y), (x + 25, y), 2.8, "7 4" if kind == "hips" else "")
    elif kind == "hands":
        yield circle(5.0, (x + 13, y), stroke="currentColor", stroke_width=2, fill="none")
    elif kind == "clubhead":
        yield circle(4.0, (x + 13, y), fill="currentColor")
    else:
        d = f"M{n(x + 1)} {n(y)}a12 5 0 1 1 24 0a12 5 0 1 1 -24 0Z"
        yield path(d, fill="currentColor", fill_opacity=0.3, class_="band")
