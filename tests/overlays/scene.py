"""One drawn-up clip for all overlay documents, and what came of an overlay as short text.

The picture is 1280 × 720 and level; the camera is 14 ft off on a tripod; a stick of 36 in, 183 px long,
hangs true. So a metre of the subject plane is 200 px. Frames: setup 12, top 192, impact 252.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby
from typing import Any

from lessonpress.measure import At, Camera, KnownLength, Measured, Setting, Survey, printed
from lessonpress.overlays import Context, Outcome
from lessonpress.overlays.shapes import Arc, Area, Band, Shape, SignAt, Stroke, Tag
from lessonpress.records import Point
from lessonpress.records.instant import Instant
from lessonpress.records.mark import Observation
from lessonpress.records.view import Hand, View

EVENTS = {"setup": 12, "top": 192, "delivery": 240, "impact": 252, "finish": 350}
CROP = (352.0, 0.0, 928.0, 720.0)
STICK = {"stick-top": {12: (380.0, 268.56)}, "stick-foot": {12: (380.0, 451.44)}}  # 182.88 px for 0.9144 m

Marks = Mapping[str, Mapping[int, tuple[float, float]]]


def setting(view: View = "face-on", hand: Hand = "right", **changed: Any) -> Setting:
    """The clip as its card would say it; `changed` keys of Setting replace the usual ones."""
    usual: dict[str, Any] = {
        "clip": "drawn",
        "size": (1280, 720),
        "view": view,
        "hand": hand,
        "camera": Camera(distance=4.2672, within=0.1524, still=True),
        "plumb": (("stick-top", "stick-foot"),),
        "scales": (KnownLength(("stick-top", "stick-foot"), 0.9144, 0.0025),),
        "stature": 1.80,
        "middles": {"pelvis": ("trail-hip", "lead-hip")},
        "room": frozenset(STICK),
        "times": tuple(frame / 240 for frame in range(400)),
        "impact": EVENTS["impact"],
    }
    return Setting(**{**usual, **changed})


def context_at(
    event: str, marks: Marks, view: View = "face-on", hand: Hand = "right", **changed: Any
) -> Context:
    """The context of a panel at an event's frame."""
    observations = [
        Observation(mark, frame, x, y)
        for mark, frames in {**marks, **STICK}.items()
        for frame, (x, y) in frames.items()
    ]
    survey = Survey(setting(view, hand, **changed), observations)
    return Context(survey, EVENTS[event], frame_of, (1280, 720), CROP)


def frame_of(instant: Instant) -> int:
    """The frame of an event, or a frame by its number."""
    base = EVENTS[instant.event] if instant.event is not None else (instant.frame or 0)
    return base + instant.plus


def marks_line(needed: Iterable[At]) -> str:
    """Marks with their frames."""
    return ", ".join(f"{at.mark} on {at.frame}" for at in needed) or "nothing"


def shape_lines(shapes: Iterable[Shape]) -> Iterator[str]:
    """The shapes drawn, a line each; a long row of the same sign by its first and last."""
    for _, group in groupby(shapes, key=lambda shape: (type(shape), getattr(shape, "sign", shape))):
        alike = list(group)
        if len(alike) <= 4:
            yield from (shape_line(shape) for shape in alike)
        else:
            yield f"{shape_line(alike[0])} … {shape_line(alike[-1])}, {len(alike)} alike"


def number_line(measured: Outcome) -> str:
    """The number as a lesson prints it, or why there is none."""
    if isinstance(measured, Measured):
        number = printed(measured.value, measured.uncertainty, measured.dimension, "in")
        return f"{number.text} {measured.way}".rstrip()
    return "nothing" if measured is None else f"{measured}"


def shape_line(shape: Shape) -> str:
    """One shape: its kind, colour, pen and places in px."""
    match shape:
        case Stroke():
            pen = f"{shape.pen.colour} {shape.pen.core:g} {shape.pen.dash}"
            closed = " closed" if shape.closed else ""
            return f"stroke {pen}, {shape.layer}{closed}: {_run(shape.points)}"
        case Arc():
            double = "double " if shape.double else ""
            pen = f"{shape.pen.colour} {shape.pen.core:g} {shape.pen.dash}"
            ends = f"{shape.start:.1f}° to {shape.end:.1f}°"
            return f"{double}arc {pen}: {_at(shape.centre)} r {shape.radius:.1f}, {ends}"
        case Area():
            hatched = "hatched area" if shape.hatched else "band"
            return f"{hatched} {shape.colour}: {_run(shape.points)}"
        case Band():
            return f"band {shape.colour}: {_at(shape.centre)} {shape.width:.1f} wide along {shape.angle:.1f}°"
        case SignAt():
            size = "" if shape.size is None else f" of {shape.size:g}"
            return f"{shape.sign} {shape.colour}{size}: {_at(shape.at)} {shape.angle:.0f}°"
        case Tag():
            words = " ".join(part for part in (shape.value, shape.pm, shape.words) if part) or "letter alone"
            look = (", on the line" if shape.on_line else "") + (", blank" if shape.blank else "")
            return f"tag {shape.colour}: {_at(shape.anchor)} {words}{look}"


def _at(point: Point) -> str:
    return f"({point[0]:.1f}, {point[1]:.1f})"


def _run(points: tuple[Point, ...]) -> str:
    """The points, or the first, the last and how many."""
    if len(points) <= 4:
        return " ".join(_at(point) for point in points)
    return f"{_at(points[0])} … {_at(points[-1])}, {len(points)} points"
