"""One overlay in CSS px: its elements by layer, the points that tags should spare, its tag's wish."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from lessonpress.drawing.layout import Box, Layout, inset, inside
from lessonpress.drawing.paper import Element, way
from lessonpress.drawing.saying import Say, as_said
from lessonpress.drawing.strokes import clip, fills
from lessonpress.drawing.strokes.ends import finished
from lessonpress.drawing.strokes.signs import draw_lattice, draw_sign
from lessonpress.drawing.strokes.strokes import arc, on_circle, stroke
from lessonpress.drawing.tags.placing import Wanted
from lessonpress.drawing.tags.tags import lettering
from lessonpress.figures import DrawnOverlay
from lessonpress.overlays import Arc, Area, Band, Colour, Layer, SignAt, Stroke, Tag
from lessonpress.records import Point

BLEED = 6.0  # CSS px that a clipped stroke runs on past the picture's edge, so that its end does not show
STEP = 10.0  # CSS px between the points by which tags know a line
BESIDE = 1.0  # CSS px within which strokes are as near to an anchor as the nearest
LINE_END = 14.0  # CSS px a letter keeps from the ends of the line it rides on


@dataclass
class Inked:
    """What one overlay puts on the plate. hatches: colours whose pattern it needs."""

    drawn: DrawnOverlay
    layers: dict[Layer, list[Element]] = field(default_factory=lambda: defaultdict(list))
    busy: list[Point] = field(default_factory=list)
    signs: list[Point] = field(default_factory=list)
    wanted: list[Wanted] = field(default_factory=list)
    hatches: set[Colour] = field(default_factory=set)


def ink(
    drawn: DrawnOverlay, layout: Layout, prefix: str, say: Say = as_said, *, every: bool = False
) -> Inked:
    """Lay out every shape of the overlay. Ids of patterns begin with `prefix`.

    say: puts what its tag says into the page's language. every: the tag says it in all readings.
    """
    inked = Inked(drawn)
    strokes, signs = _fitted(drawn, layout)
    lattice: list[SignAt] = []  # a grid's crosses: many, alike, and no mark's place
    for shape in drawn.shapes:
        if isinstance(shape, Area):
            _ink_area(inked, shape, layout, prefix)
        elif isinstance(shape, Band):
            centre, angle = layout.point(shape.centre), layout.angle(shape.angle)
            width = shape.width * layout.scale
            inked.layers["band"].append(fills.shift_band(centre, width, angle, shape.colour))
            inked.busy += [(centre[0], centre[1] - 9), (centre[0], centre[1] + 9)]
        elif isinstance(shape, Arc):
            _ink_arc(inked, shape, layout)
    for line in strokes:
        _ink_stroke(inked, line, layout)
    for sign, origin in signs:
        if sign.sign == "cross" and sign.layer == "band":
            lattice.append(sign)
            continue
        inked.layers[sign.layer].append(draw_sign(sign, origin))
        inked.signs.append(sign.at)
        inked.busy += [sign.at, sign.at]  # worse to cover than a point of a line
    if lattice:
        inked.layers["band"].extend(draw_lattice(lattice))
    inked.wanted = [_wanted(inked, _in_words(tag, say), strokes, layout, every) for tag in _tags(drawn)]
    return inked


def _tags(drawn: DrawnOverlay) -> Iterable[Tag]:
    """An overlay without a letter has no tag."""
    return (shape for shape in drawn.shapes if isinstance(shape, Tag) and drawn.letter)


def _fitted(drawn: DrawnOverlay, layout: Layout) -> tuple[tuple[Stroke, ...], list[tuple[SignAt, Point]]]:
    """Strokes and signs in CSS px, fitted to each other; each sign with the picture's point it is on."""
    strokes = [
        replace(shape, points=tuple(layout.point(point) for point in shape.points))
        for shape in drawn.shapes
        if isinstance(shape, Stroke)
    ]
    shown = [shape for shape in drawn.shapes if isinstance(shape, SignAt) and _shows(shape, layout)]
    laid = [replace(sign, at=layout.point(sign.at), angle=layout.angle(sign.angle)) for sign in shown]
    fitted, placed = finished(strokes, laid, layout.frame)
    origins = (
        origin.at if sign.at == before.at else layout.back(sign.at)
        for sign, before, origin in zip(placed, laid, shown, strict=True)
    )
    return fitted, list(zip(placed, origins, strict=True))


def _shows(sign: SignAt, layout: Layout) -> bool:
    """Whether any of the sign can be seen; a bob always is, since it is drawn up into the picture."""
    return sign.sign in ("bob", "hollow-bob") or inside(layout.point(sign.at), _around(layout))


def _around(layout: Layout) -> Box:
    """The picture and a little more, so that the ends of what is clipped do not show."""
    return inset(layout.frame, top=-BLEED, bottom=-BLEED, sides=-BLEED)


def _ink_area(inked: Inked, shape: Area, layout: Layout, prefix: str) -> None:
    points = clip.area([layout.point(point) for point in shape.points], _around(layout))
    if not points:
        return
    if shape.hatched:
        inked.hatches.add(shape.colour)
        inked.layers[shape.layer].append(fills.hatched(points, hatch_id(prefix, shape.colour)))
    else:
        inked.layers[shape.layer].extend(fills.band_area(points, shape.colour))
        inked.busy += _sampled((*points, points[0]), 2 * STEP)


def hatch_id(prefix: str, colour: Colour) -> str:
    return f"{prefix}-hatch-{colour}"


def _ink_arc(inked: Inked, shape: Arc, layout: Layout) -> None:
    laid = replace(
        shape,
        centre=layout.point(shape.centre),
        radius=shape.radius * layout.scale,
        start=layout.angle(shape.start),
        end=layout.angle(shape.end),
    )
    inked.layers[shape.layer].extend(arc(laid))
    count = max(2, int(abs(math.radians(laid.end - laid.start)) * laid.radius / STEP) + 1)
    turns = (laid.start + (laid.end - laid.start) * k / (count - 1) for k in range(count))
    inked.busy += [on_circle(laid.centre, laid.radius, turn) for turn in turns]


def _ink_stroke(inked: Inked, line: Stroke, layout: Layout) -> None:
    for run in clip.runs(line.points, _around(layout), closed=line.closed):
        whole = line.closed and run == line.points
        inked.layers[line.layer].extend(stroke(way(run, closed=whole), line.pen))
        inked.busy += _sampled(run, STEP)


def _sampled(points: Sequence[Point], step: float) -> list[Point]:
    """Points along a line, about `step` CSS px apart, its ends among them."""
    cut: list[Point] = []
    left = 0.0
    for a, b in pairwise(points):
        length = math.dist(a, b)
        while left < length:
            share = left / length
            cut.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
            left += step
        left -= length
    return [*cut, points[-1]]


def _wanted(inked: Inked, tag: Tag, strokes: Sequence[Stroke], layout: Layout, every: bool) -> Wanted:
    anchor = _visible(layout.point(tag.anchor), inked.busy, layout)
    along = _line_under(anchor, strokes, layout) if tag.on_line else None
    said = lettering(inked.drawn.letter, tag, every=every)
    return Wanted(said, anchor, along, _ways(anchor, strokes))


def _in_words(tag: Tag, say: Say) -> Tag:
    """The tag with a value that is words ("not measured") in the page's language."""
    return tag if say(tag.value) == tag.value else replace(tag, value=say(tag.value))


def _ways(anchor: Point, strokes: Sequence[Stroke]) -> tuple[float, ...]:
    """The directions, degrees, of the overlay's strokes that come nearest to its anchor."""
    pieces = [piece for line in strokes for piece in pairwise(line.points) if piece[0] != piece[1]]
    away = [_distance(anchor, *piece) for piece in pieces]
    near = [piece for piece, far in zip(pieces, away, strict=True) if far <= min(away) + BESIDE]
    return tuple(dict.fromkeys(round(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])), 1) for a, b in near))


def _visible(anchor: Point, own: Sequence[Point], layout: Layout) -> Point:
    """The anchor, or the overlay's nearest point in the picture where the anchor lies outside it."""
    room = inset(layout.frame, top=3, bottom=3, sides=3)
    if inside(anchor, room):
        return anchor
    seen = [point for point in own if inside(point, room)]
    if seen:
        return min(seen, key=lambda point: (math.dist(point, anchor), point))
    return (min(max(anchor[0], room[0]), room[2]), min(max(anchor[1], room[1]), room[3]))


def _line_under(anchor: Point, strokes: Sequence[Stroke], layout: Layout) -> tuple[Point, Point] | None:
    """The visible part of the straight stroke nearest the anchor, a letter's room from its ends."""
    parts = [
        part
        for line in strokes
        if len(line.points) == 2 and (part := clip.segment(line.points[0], line.points[1], layout.frame))
    ]
    if not parts:
        return None
    a, b = min(parts, key=lambda part: _distance(anchor, *part))
    level = abs(a[0] - b[0]) > abs(a[1] - b[1])
    a, b = sorted((a, b), key=lambda point: point[0] if level else point[1])
    length = math.dist(a, b)
    if length <= 2 * LINE_END:
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        return (middle, middle)
    ux, uy = LINE_END * (b[0] - a[0]) / length, LINE_END * (b[1] - a[1]) / length
    return ((a[0] + ux, a[1] + uy), (b[0] - ux, b[1] - uy))


def _distance(point: Point, a: Point, b: Point) -> float:
    """From a point to the segment a→b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    t = 0.0 if square == 0 else ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square
    t = min(max(t, 0.0), 1.0)
    return math.dist(point, (a[0] + t * dx, a[1] + t * dy))
