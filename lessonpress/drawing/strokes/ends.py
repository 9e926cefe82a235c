"""Where strokes stop for the signs that they carry: under a barbed head, and at a bob inside the picture."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from lessonpress.drawing.layout import Box, inset
from lessonpress.drawing.strokes import clip
from lessonpress.drawing.strokes.signs import barb_depth, size_of
from lessonpress.overlays import SignAt, Stroke
from lessonpress.records import Point

HANG_TOP = 10.0  # CSS px between the upper edge of the picture and a line that runs its full height
HANG_BOTTOM = 16.0  # between the bob's shoulders and the lower edge, so that the whole bob shows
SHORT = 22.0  # an arrow shorter than this has a smaller head, so that it still shows its direction
HEAD_SHARE = 0.75  # of a short arrow's length, for its head
LEAST_HEAD = 8.0  # CSS px, of a head whose way can be seen
NOWHERE = 0.5  # CSS px: an arrow shorter than this points nowhere and is a dot
_NEAR = 1.0  # CSS px within which a sign sits on the end of a stroke


def finished(
    strokes: Sequence[Stroke], signs: Sequence[SignAt], frame: Box
) -> tuple[tuple[Stroke, ...], tuple[SignAt, ...]]:
    """Strokes and signs of one overlay, in CSS px, fitted to each other and to the picture.

    Signs come back in the order they came in, so that each keeps its mark.
    """
    fitted = list(strokes)
    placed: list[SignAt] = []
    for sign in signs:
        at = _carrier(fitted, sign)
        if at is None:
            placed.append(sign)
        elif sign.sign in ("bob", "hollow-bob"):
            fitted[at], hung = _hang(fitted[at], sign, frame)
            placed.append(hung)
        elif sign.sign == "barb":
            fitted[at], tip = _barbed(fitted[at], sign)
            placed.append(tip)
        else:
            placed.append(sign)
    return tuple(fitted), tuple(placed)


def _carrier(strokes: Sequence[Stroke], sign: SignAt) -> int | None:
    """Which open stroke ends at the sign."""
    for index, stroke in enumerate(strokes):
        if not stroke.closed and min(math.dist(end, sign.at) for end in _ends(stroke)) <= _NEAR:
            return index
    return None


def _ends(stroke: Stroke) -> tuple[Point, Point]:
    return (stroke.points[0], stroke.points[-1])


def _ending_at(stroke: Stroke, sign: SignAt) -> tuple[Point, ...]:
    """The stroke's points in the order that ends at the sign."""
    if math.dist(stroke.points[0], sign.at) < math.dist(stroke.points[-1], sign.at):
        return stroke.points[::-1]
    return stroke.points


def _hang(stroke: Stroke, sign: SignAt, frame: Box) -> tuple[Stroke, SignAt]:
    """The line within the picture, with the bob whole at its lower end and hanging along it."""
    first, last = _ending_at(stroke, sign)[0], sign.at
    part = clip.segment(first, last, inset(frame, top=HANG_TOP, bottom=HANG_BOTTOM))
    if part is None:
        return stroke, sign
    upper, lower = part
    turned = math.degrees(math.atan2(lower[1] - upper[1], lower[0] - upper[0]))
    return replace(stroke, points=part), replace(sign, at=lower, angle=turned)


def _barbed(stroke: Stroke, sign: SignAt) -> tuple[Stroke, SignAt]:
    """The stroke cut back to the notch of its head, which is smaller where the stroke is short."""
    points = _ending_at(stroke, sign)
    length = sum(math.dist(a, b) for a, b in pairwise(points))
    if length < NOWHERE:
        return stroke, replace(sign, sign="dot", size=None)
    if length < SHORT:
        sign = replace(sign, size=max(LEAST_HEAD, min(size_of(sign), HEAD_SHARE * length)))
    cut = min(barb_depth(size_of(sign)) - 1.0, length)
    kept = list(points)
    while len(kept) > 2 and math.dist(kept[-2], kept[-1]) <= cut:
        cut -= math.dist(kept[-2], kept[-1])
        kept.pop()
    (ax, ay), (bx, by) = kept[-2], kept[-1]
    share = 1 - cut / math.dist(kept[-2], kept[-1])
    kept[-1] = (ax + share * (bx - ax), ay + share * (by - ay))
    return replace(stroke, points=tuple(kept)), sign
