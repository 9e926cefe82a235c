"""The overlays of a panel as SVG, laid out for one width."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import get_args

import numpy as np
from numpy.typing import NDArray

from lessonpress.drawing.layout import Layout
from lessonpress.drawing.palette import CASING_OPACITY, INK, PAPER
from lessonpress.drawing.paper import (
    FAMILY,
    Element,
    circle,
    group,
    inline,
    pair,
    path,
    pinned,
    scaled,
    unscaled,
)
from lessonpress.drawing.saying import Say, as_said
from lessonpress.drawing.strokes.fills import hatch
from lessonpress.drawing.strokes.inked import Inked, hatch_id, ink
from lessonpress.drawing.strokes.parting import parted
from lessonpress.drawing.tags.ground import Ground
from lessonpress.drawing.tags.placing import Placed, place_tags
from lessonpress.drawing.tags.tags import draw_tag
from lessonpress.figures import Panel
from lessonpress.overlays import Colour, Layer
from lessonpress.records import Point

THUMB = 0.7  # how large strokes and signs of a thumb are against those of a page
LETTERS_ALONE = 260.0  # a picture laid out narrower carries letters and no numbers or words
LAYERS: tuple[Layer, ...] = get_args(Layer)


def plate_svg(
    panel: Panel,
    width: float,
    *,
    ids_prefix: str,
    mirrored: bool = False,
    thumb: bool = False,
    say: Say = as_said,
    every: bool = False,
) -> str:
    """The overlay layer of a panel's picture laid out for `width` CSS px, to lie over it inside a page.

    Where the picture is shown wider all grows with it but the tags: they keep their size, each pinned by the
    point that its leader leads to, and so draw apart and never over each other. ids_prefix: what makes ids
    unique in the page. mirrored: geometry flips, lettering does not. thumb: a small picture in a
    list, with finer strokes and no tags. say: what tags say in the page's language; every: in every reading,
    for a page that hides all but one. The viewBox within is in CSS px as laid out.
    """
    layout = layout_for(panel, width / THUMB if thumb else width, mirrored=mirrored)
    laid = _laid(panel, layout, ids_prefix, lettered=not thumb, say=say, every=every)
    drawing = unscaled()
    drawing.add(scaled(laid.elements, layout.width, layout.height))
    if laid.placed:
        tags = (_pinned_tag(one, layout) for one in laid.placed)
        drawing.add(group(tags, class_="tags", font_family=FAMILY))
    return inline(drawing, "overlay")


def _pinned_tag(placed: Placed, layout: Layout) -> Element:
    """The tag at its own size. Its group `fit` is what a page shrinks in a picture narrower than laid out."""
    x, y = placed.pin
    tag = draw_tag(placed.said, (placed.corner[0] - x, placed.corner[1] - y), x - placed.corner[0])
    return pinned(group([tag], class_="fit"), (x / layout.width, y / layout.height))


def layout_for(panel: Panel, width: float, *, mirrored: bool = False) -> Layout:
    return Layout(panel.crop, width, mirrored)


def overlays(panel: Panel, layout: Layout, ids_prefix: str) -> list[Element]:
    """Everything that lies on the picture at the width it is laid out for, lowest first."""
    laid = _laid(panel, layout, ids_prefix, lettered=True)
    if not laid.placed:
        return laid.elements
    tags = (draw_tag(one.said, one.corner) for one in laid.placed)
    return [*laid.elements, group(tags, class_="tags", font_family=FAMILY)]


@dataclass(frozen=True)
class _Laid:
    """What lies on a picture, lowest first; the tags, which lie over it, by their places."""

    elements: list[Element]
    placed: tuple[Placed, ...]


def _laid(
    panel: Panel,
    layout: Layout,
    ids_prefix: str,
    *,
    lettered: bool,
    say: Say = as_said,
    every: bool = False,
) -> _Laid:
    shown = parted([drawn for drawn in panel.drawn if drawn.shown], layout)
    inked = [ink(drawn, layout, ids_prefix, say, every=every) for drawn in shown]
    stacked = sorted(inked, key=lambda one: one.drawn.measure is not None)  # numbers over what has none
    made = [hatch(hatch_id(ids_prefix, colour), colour) for colour in _hatches(inked)]
    made += [element for layer in LAYERS if (element := _layer(layer, stacked)) is not None]
    placed = placed_tags(panel, layout, inked) if lettered else ()
    signs = [sign for one in inked for sign in one.signs]
    leaders = [_leader(one.leader, signs, one.said.letter) for one in placed if one.leader]
    if leaders:
        made.append(group(leaders, class_="leaders"))
    return _Laid(made, placed)


def _hatches(inked: Sequence[Inked]) -> list[Colour]:
    return sorted({colour for one in inked for colour in one.hatches})


def _layer(layer: Layer, inked: Sequence[Inked]) -> Element | None:
    """One group for the layer with a group for each overlay that has something on it."""
    groups = [
        group(one.layers[layer], {"letter": one.drawn.letter, "kind": one.drawn.kind})
        for one in inked
        if one.layers[layer]
    ]
    return group(groups, class_=layer, fill="none", stroke_linejoin="round") if groups else None


def placed_tags(panel: Panel, layout: Layout, inked: Sequence[Inked]) -> tuple[Placed, ...]:
    """Every tag of the panel in its place."""
    wanted = [want for one in inked for want in one.wanted]
    if layout.width < LETTERS_ALONE:
        wanted = [want.alone() for want in wanted]
    busy = [point for one in inked for point in one.busy]
    marks = [layout.point(mark) for mark in panel.marks]
    signs = [sign for one in inked for sign in one.signs]
    clear = tuple(layout.box(box) for box in panel.keep_clear)
    ground = Ground(layout.width, layout.height, _points([*busy, *marks]), clear, _points(signs))
    return place_tags(wanted, ground)


def _points(points: Sequence[Point]) -> NDArray[np.float64]:
    return np.array(points, dtype=np.float64).reshape(-1, 2)


def _leader(leader: tuple[Point, Point], signs: Sequence[Point], letter: str) -> Element:
    """A line from the tag to what it names, ending in a dot unless a sign is there already."""
    start, end = leader
    d = f"M{pair(start)}L{pair(end)}"
    elements = [
        path(d, stroke=PAPER, stroke_width=3.8, stroke_opacity=CASING_OPACITY),
        path(d, stroke=INK, stroke_width=1.3),
    ]
    if all(math.dist(start, sign) > 3.0 for sign in signs):
        elements.append(circle(2.1, start, fill=INK, stroke=PAPER, stroke_width=1.2))
    return group(elements, {"letter": letter})
