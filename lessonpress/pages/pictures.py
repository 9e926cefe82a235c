"""The pictures a site needs and where they lie.

A picture is known by its shot: clip, frame and crop. The pages ask for a plate's crop at the widths a phone
and a desk show, and for a square cut around what is drawn, for the lists.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lessonpress.figures import BoundLesson, BoundSite, DrawnOverlay, Panel
from lessonpress.manuscript import Where
from lessonpress.overlays import Arc, Area, Band, Shape, SignAt, Stroke
from lessonpress.records import Measure, PictureBox, Point

PLATE_WIDTHS = (480, 800, 1280)
THUMB_WIDTHS = (208, 416)
_NARROWER = 1.25  # how many times as wide the widest file is, at the least, for another beside it
_THUMB_MARGIN = 0.22
_SMALLEST_THUMB = 0.5  # of the crop's shorter side: closer than this a reader loses the body
_FIRST: tuple[Where, ...] = (
    "lists",
    "prose",
    "caption",
    "label",
    "alt",
)  # where the number for lists is looked for
_ENDS = (
    "bob",
    "hollow-bob",
    "stop",
    "cross",
)  # of lines that run through the plate, and a grid's


@dataclass(frozen=True)
class Shot:
    """clip, frame in presentation order, and the crop (left, top, right, bottom) in px of the picture."""

    clip: str
    frame: int
    crop: PictureBox


@dataclass(frozen=True)
class Picture:
    """One file of a shot: href from the site's root (not encoded), width and height in px."""

    href: str
    width: int
    height: int


@dataclass(frozen=True)
class WantedShot:
    """A shot the site shows, the widths it is wanted at, never wider than its crop, and what to blur."""

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


def squared(panel: Panel, focus: str = "") -> Panel:
    """The panel cut to a square around what is drawn on it, inside its own crop; whole px.

    focus: the id of the measure whose overlay the square is cut around, where the panel draws it.
    """
    left, top, right, bottom = panel.crop
    limit = min(right - left, bottom - top)
    points = [
        (x, y) for x, y in _points_of_interest(panel, focus) if left <= x <= right and top <= y <= bottom
    ]
    xs, ys = [x for x, _ in points] or [left, right], [y for _, y in points] or [top, bottom]
    spread = max(max(xs) - min(xs), max(ys) - min(ys)) * (1 + 2 * _THUMB_MARGIN)
    side = float(int(min(limit, max(spread, _SMALLEST_THUMB * limit))))
    start_x = _slid((min(xs) + max(xs)) / 2, side, left, right)
    start_y = _slid((min(ys) + max(ys)) / 2, side, top, bottom)
    return replace(panel, crop=(start_x, start_y, start_x + side, start_y + side))


def wanted_shots(bound: BoundSite) -> tuple[WantedShot, ...]:
    """Every shot that the pages will ask their book for, once each, in a fixed order."""
    asked: dict[Shot, WantedShot] = {}
    for want in _all_wanted(bound.lessons):
        known = asked.setdefault(want.shot, want)
        asked[want.shot] = WantedShot(
            want.shot,
            tuple(sorted({*known.widths, *want.widths})),
            tuple(dict.fromkeys((*known.obscured, *want.obscured))),
        )
    return tuple(asked.values())


def _all_wanted(lessons: Iterable[BoundLesson]) -> Iterator[WantedShot]:
    for lesson in lessons:
        for plate in lesson.plates:
            for panel in plate.stepped:
                yield _want(panel, PLATE_WIDTHS)
        square = emblem(lesson)
        if square is not None:
            yield _want(square, THUMB_WIDTHS)


def emblem(lesson: BoundLesson) -> Panel | None:
    """The square that shows a lesson in lists; None for one without pictures."""
    panel, measure = emblem_panel(lesson), emblem_measure(lesson)
    return None if panel is None else squared(panel, "" if measure is None else measure.id)


def emblem_panel(lesson: BoundLesson) -> Panel | None:
    """The picture that the square is cut from: that with the overlay of the lesson's one number.

    Else the last of its first plate; None for a lesson without pictures.
    """
    measure = emblem_measure(lesson)
    name = "" if measure is None else measure.id
    plates = [plate.panels for plate in lesson.plates if plate.panels]
    panels = (panel for panels in plates for panel in panels)
    last = plates[0][-1] if plates else None
    return next((panel for panel in panels if _measured_on(panel, name)), last)


def emblem_measure(lesson: BoundLesson) -> Measure | None:
    """The one number that lists show of a lesson, the first of `numbers_that_matter`."""
    return next(iter(numbers_that_matter(lesson)), None)


def numbers_that_matter(lesson: BoundLesson) -> tuple[Measure, ...]:
    """The measured numbers of a lesson, each once: the one its front matter names, then those that the text
    prints in its order, then the rest of the ledger.
    """
    named = sorted(lesson.lesson.references, key=lambda one: (_FIRST.index(one.where), one.location))
    printed = (lesson.named.get(one.id) for one in named if one.figure is None)
    measures = (measure for measure in (*printed, *lesson.measures.values()) if measure is not None)
    return tuple({one.id: one for one in measures if one.value is not None}.values())


def _measured_on(panel: Panel, name: str) -> list[DrawnOverlay]:
    """The shown overlays of a panel that carry the measure `name`."""
    return [one for one in panel.drawn if one.shown and one.measure is not None and one.measure.id == name]


def _want(panel: Panel, widths: tuple[int, ...]) -> WantedShot:
    """Widths the crop can fill, and its own width where it is smaller than the largest asked for.

    A file little narrower than the widest saves a reader next to nothing, and is left out.
    """
    widest = min(int(panel.crop[2] - panel.crop[0]), widths[-1])
    narrower = [width for width in widths if width * _NARROWER <= widest]
    return WantedShot(shot_of(panel), (*narrower, widest), panel.obscured)


def _slid(middle: float, length: float, low: float, high: float) -> float:
    """The start of a stretch of `length` about `middle`, slid inside low..high, on whole px."""
    return min(max(low, float(round(middle - length / 2))), high - length)


def _points_of_interest(panel: Panel, focus: str) -> Iterator[Point]:
    """Where the interest of a panel lies; lines that run through the whole plate count by their marks."""
    shown = [one for one in panel.drawn if one.shown]
    live = [one for one in shown if not one.standing]
    for drawn in _measured_on(panel, focus) or live or shown:
        for shape in drawn.shapes:
            yield from _points(shape)


def _points(shape: Shape) -> Iterator[Point]:
    if (isinstance(shape, Stroke) and not shape.through) or (isinstance(shape, Area) and shape.hatched):
        yield from shape.points
    elif isinstance(shape, Arc):
        (x, y), radius = shape.centre, shape.radius
        yield from ((x - radius, y - radius), (x + radius, y + radius))
    elif isinstance(shape, Band):
        yield shape.centre
    elif isinstance(shape, SignAt) and shape.sign not in _ENDS:
        yield shape.at
