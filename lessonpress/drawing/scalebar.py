"""The survey bar under a calibrated plate: a block every 6 in or 15 cm, zero on the plate's zero line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lessonpress.drawing.layout import Layout
from lessonpress.drawing.palette import PAPER
from lessonpress.drawing.paper import FAMILY, Element, group, inline, n, path, rect, sheet, text
from lessonpress.drawing.plate import layout_for
from lessonpress.drawing.saying import Say, as_said
from lessonpress.drawing.tags.faces import text_width
from lessonpress.figures import Panel, ScaleBar
from lessonpress.measure import Units
from lessonpress.records import METRES_PER_INCH

HEIGHT = 30.0  # CSS px
BAR = 7.0
TICK_END = 12.0
BASELINE = 25.0
SIZE = 13.0
MARGIN = 10.0  # between the words at the ends and the edges of the plate
CLEAR = 8.0  # between two pieces of lettering
LEAST_BLOCK = 8.0  # CSS px; where blocks would be narrower, each shows twice the length
BLOCKS: dict[Units, tuple[int, float]] = {"in": (6, METRES_PER_INCH), "cm": (15, 0.01)}


@dataclass(frozen=True)
class _Rule:
    """The bar's divisions: the zero's CSS x, a block's CSS px and the length it shows, blocks in sight."""

    zero: float
    step: float
    worth: int
    first: int
    last: int

    def x(self, block: int) -> float:
        return self.zero + block * self.step


def scale_bar_svg(
    panel: Panel, width: float, units: Units, *, mirrored: bool = False, say: Say = as_said
) -> str | None:
    """The bar for a picture shown `width` CSS px wide, to be set under it in a page; None without a scale.

    It takes the colour of its surroundings (`currentColor`); the class `ground` is the bar's light part. say:
    puts the words at its ends into the language of the page.
    """
    layout = layout_for(panel, width, mirrored=mirrored)
    if panel.bar is None:
        return None
    drawing = sheet(layout.width, HEIGHT, sized=False)
    for element in scale_bar(panel.bar, layout, units, say):
        drawing.add(element)
    return inline(drawing, f"scale-bar {units}")


def scale_bar(bar: ScaleBar, layout: Layout, units: Units, say: Say = as_said) -> list[Element]:
    """The bar's elements, its upper edge at y = 0."""
    rule = _rule(bar, layout, units)
    return [
        rect((0, 0), layout.width, BAR, fill=PAPER, class_="ground"),
        path(_blocks(rule, layout.width), fill="currentColor"),
        path(_lines(rule, layout.width), stroke="currentColor", fill="none"),
        group(
            _lettering(rule, bar, layout, units, say),
            font_family=FAMILY,
            font_size=n(SIZE),
            font_weight=500,
            fill="currentColor",
        ),
    ]


def _rule(bar: ScaleBar, layout: Layout, units: Units) -> _Rule:
    worth, metres = BLOCKS[units]
    step = worth * metres * bar.px_per_metre * layout.scale
    while step < LEAST_BLOCK:
        worth, step = 2 * worth, 2 * step
    zero = layout.point((bar.zero, layout.crop[1]))[0]
    return _Rule(zero, step, worth, math.floor(-zero / step), math.ceil((layout.width - zero) / step))


def _blocks(rule: _Rule, width: float) -> str:
    """Every second block, dark, one to the right of zero first."""
    parts = []
    for block in range(rule.first + rule.first % 2, rule.last, 2):
        left, right = max(0.0, rule.x(block)), min(width, rule.x(block + 1))
        if right > left:
            parts.append(f"M{n(left)} 0H{n(right)}V{n(BAR)}H{n(left)}Z")
    return "".join(parts)


def _lines(rule: _Rule, width: float) -> str:
    """The bar's lower edge and a tick at every second block."""
    ticks = (
        f"M{n(rule.x(block))} {n(BAR)}V{n(TICK_END)}"
        for block in range(rule.first + rule.first % 2, rule.last + 1, 2)
        if 0 <= rule.x(block) <= width
    )
    return f"M0 {n(BAR + 0.5)}H{n(width)}" + "".join(ticks)


def _lettering(rule: _Rule, bar: ScaleBar, layout: Layout, units: Units, say: Say) -> Iterator[Element]:
    """The directions at both ends, zero, and as many numbers between as are clear of each other.

    The first number on either side says the unit where nothing else does.
    """
    toward_right = (bar.positive_right > 0) != layout.mirrored
    words = [say("away"), say("toward" if bar.goal == "target" else f"toward {bar.goal}")]
    left, right = words if toward_right else words[::-1]
    yield text(left, (MARGIN, BASELINE), class_="way")
    yield text(right, (layout.width - MARGIN, BASELINE), text_anchor="end", class_="way")
    taken = [
        (0.0, MARGIN + text_width(left, SIZE, 500)),
        (layout.width - MARGIN - text_width(right, SIZE, 500), layout.width),
    ]
    for block in sorted(range(rule.first + rule.first % 2, rule.last + 1, 2), key=lambda k: (abs(k), -k)):
        words_here, weight = _number(rule, block, units), 700 if block == 0 else 500
        half = text_width(words_here, SIZE, weight) / 2
        ends = (rule.x(block) - half, rule.x(block) + half)
        if all(ends[0] >= end + CLEAR or ends[1] <= start - CLEAR for start, end in taken):
            taken.append(ends)
            yield text(words_here, (rule.x(block), BASELINE), text_anchor="middle", font_weight=weight)


def _number(rule: _Rule, block: int, units: Units) -> str:
    """How far a block's edge is from zero; the unit is with the first to the right."""
    number = str(abs(block) * rule.worth)
    return f"{number} {units}" if block == 2 else number
