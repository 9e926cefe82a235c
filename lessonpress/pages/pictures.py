"""The pictures a site needs and where they lie.

A picture is known by its shot: clip, frame and crop. The pages ask for a plate's crop at the widths a phone
and a desk show, and for a square cut around what is drawn, for the lists.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lessonpress.figures.plates import BoundLesson, BoundSite, Box, Panel
from lessonpress.overlays.shapes import Arc, Area, Band, Point, SignAt, Stroke

PLATE_WIDTHS = (480, 800, 1280)
THUMB_WIDTHS = (208, 416)
_THUMB_MARGIN = 0.22
_SMALLEST_THUMB = 0.5  # of the crop's shorter side: closer than this a reader loses the body


@dataclass(frozen=True)
class Shot:
    """clip, frame in presentation order, and the crop (left, top, right, bottom) in px of the picture."""

    clip: str
    frame: int
    crop: Box


@dataclass(frozen=True)
class Picture:
    """One file of a shot: href from the site's root (not encoded), width and height in px."""

    href: str
    width: int
    height: int


@dataclass(frozen=True)
class Wanted:
    """A shot the site shows, the widths it is wanted at (never wider than the crop) and what to blur in it."""

    shot: Shot
    widths: tuple[int, ...]
    obscured: tuple[tuple[Point, float], ...]


class PictureBook:
    """Finds the files of a shot, narrowest first; a shot without files is printed as a hatched frame."""

    def __init__(self, pictures: Mapping[Shot, Sequence[Picture]]) -> None:
        self._pictures = {
            shot: tuple(sorted(files, key=lambda file: file.width)) for shot, files in pictures.items()
        }

    def of(self, shot: Shot) -> tuple[Picture, ...]:
        return self._pictures.get(shot, ())


def shot_of(panel: Panel) -> Shot:
    return Shot(panel.clip, panel.frame, panel.crop)


def squared(panel: Panel) -> Panel:
    """The panel cut to a square around what is drawn on it, inside its own crop; whole px."""
    left, top, right, bottom = panel.crop
    limit = min(right - left, bottom - top)
    points = [
        point for point in _drawn_points(panel) if left <= point[0] <= right and top <= point[1] <= bottom
    ]
    if not points:
        points = [((left + right) / 2, (top + bottom) / 2)]
        side = limit
    else:
        xs, ys = [x for x, _ in points], [y for _, y in points]
        spread = max(max(xs) - min(xs), max(ys) - min(ys)) * (1 + 2 * _THUMB_MARGIN)
        side = min(limit, max(spread, _SMALLEST_THUMB * limit))
    side = float(int(side))
    xs, ys = [x for x, _ in points], [y for _, y in points]
    start_x = _slid((min(xs) + max(xs)) / 2, side, left, right)
    start_y = _slid((min(ys) + max(ys)) / 2, side, top, bottom)
    return replace(panel, crop=(start_x, start_y, start_x + side, start_y + side))


def wanted(bound: BoundSite) -> tuple[Wanted, ...]:
    """Every shot that `render_site` will ask its book for, once each, in a fixed order."""
    asked: dict[Shot, Wanted] = {}
    for want in _all_wanted(bound.lessons):
        known = asked.get(want.shot)
        widths = want.widths if known is None else tuple(sorted({*known.widths, *want.widths}))
        asked[want.shot] = replace(want, widths=widths)
    return tuple(asked.values())


def _all_wanted(lessons: Iterable[BoundLesson]) -> Iterator[Wanted]:
    for lesson in lessons:
        for plate in lesson.plates:
            for panel in plate.panels:
                yield _want(panel, PLATE_WIDTHS)
        if lesson.plates and lesson.plates[0].panels:
            yield _want(squared(emblem(lesson)), THUMB_WIDTHS)


def emblem(lesson: BoundLesson) -> Panel:
    """The panel that stands for a lesson in lists: the last of its first plate, where the point is made."""
    return lesson.plates[0].panels[-1]


def _want(panel: Panel, widths: tuple[int, ...]) -> Wanted:
    """Widths the crop can fill, and its own width where it is smaller than the largest asked for."""
    own = int(panel.crop[2] - panel.crop[0])
    fitting = [width for width in widths if width < own]
    if own <= widths[-1]:
        fitting.append(own)
    return Wanted(shot_of(panel), tuple(fitting), panel.obscured)


def _slid(middle: float, length: float, low: float, high: float) -> float:
    """The start of a stretch of `length` about `middle`, slid inside low..high, on whole px."""
    return min(max(low, float(round(middle - length / 2))), high - length)


def _drawn_points(panel: Panel) -> Iterator[Point]:
    """Points that say where the interest of a panel lies; lines that run through the plate bring their mark."""
    for drawn in panel.drawn:
        if not drawn.shown or drawn.standing:
            continue
        for shape in drawn.shapes:
            if (isinstance(shape, Stroke) and drawn.kind not in ("vertical", "horizontal")) or (isinstance(shape, Area) and shape.hatched):
                yield from shape.points
            elif isinstance(shape, Arc):
                x, y = shape.centre
                yield from ((x - shape.radius, y - shape.radius), (x + shape.radius, y + shape.radius))
            elif isinstance(shape, SignAt):
                yield shape.at
            elif isinstance(shape, Band):
                yield shape.centre
