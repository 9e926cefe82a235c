"""A made-up panel with every kind of overlay once, on a picture of 800 × 1000 px."""

from __future__ import annotations

import math
from dataclasses import replace

from lessonpress.figures.plates import Credit, DrawnOverlay, Panel, ScaleBar
from lessonpress.overlays.shapes import (
    Arc,
    Area,
    Band,
    Colour,
    Pen,
    Shape,
    SignAt,
    Stroke,
    Tag,
)
from lessonpress.records import Point

SIZE = (800, 1000)
CROP = (0.0, 0.0, 800.0, 1000.0)

# an invented posture, face-on, in px of the picture
MARKS: dict[str, Point] = {
    "head": (372.0, 280.0),
    "c7": (384.0, 332.0),
    "lead-shoulder": (440.0, 372.0),
    "trail-shoulder": (316.0, 352.0),
    "navel": (418.0, 474.0),
    "navel-at-setup": (398.0, 474.0),
    "lead-hip": (470.0, 492.0),
    "lead-elbow": (330.0, 450.0),
    "lead-wrist": (242.0, 462.0),
    "lead-knee": (504.0, 672.0),
    "lead-ankle": (512.0, 838.0),
    "trail-ankle": (310.0, 838.0),
    "implement-head": (122.0, 108.0),
}


def heading(a: Point, b: Point) -> float:
    """Degrees clockwise from the picture's right."""
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))


def off(point: Point, degrees: float, by: float) -> Point:
    return (point[0] + by * math.cos(math.radians(degrees)), point[1] + by * math.sin(math.radians(degrees)))


def drawn(letter: str, kind: str, colour: Colour, *shapes: Shape, standing: bool = False) -> DrawnOverlay:
    return DrawnOverlay(letter, kind, colour, True, standing, kind, f"A {kind}.", shapes, None)


def panel_of(*overlays: DrawnOverlay, marks: dict[str, Point] = MARKS) -> Panel:
    """A panel on the whole picture with the body's telling parts to be kept clear."""

    def around(name: str, half: float) -> tuple[float, float, float, float]:
        x, y = marks[name]
        return (x - half, y - half, x + half, y + half)

    return Panel(
        clip="marram-face-on",
        title="Marram, face-on, 7-iron",
        frame=278,
        event="",
        label="Delivery",
        seconds=1.16,
        size=SIZE,
        crop=CROP,
        drawn=overlays,
        marks=tuple(marks.values()),
        keep_clear=(
            around("head", 44),
            around("lead-wrist", 30),
            around("lead-ankle", 40),
            around("trail-ankle", 40),
            around("implement-head", 22),
        ),
        bar=ScaleBar(px_per_metre=413.0, zero=marks["navel-at-setup"][0], positive_right=1, goal="target"),
        credit=Credit("Drawn figure, Marram Studio", "CC BY 4.0"),
        alt="A drawn golfer in delivery, seen face-on.",
    )


def vertical(letter: str, mark: Point) -> DrawnOverlay:
    foot = (mark[0], 964.0)
    return drawn(
        letter,
        "vertical",
        "black",
        Stroke((mark, foot), Pen("black")),
        SignAt("bob", foot, "black", 90),
        SignAt("hollow", mark, "black", size=4),
        Tag((mark[0], (mark[1] + 964) / 2), "black", on_line=True),
    )


def standing(letter: str, x: float) -> DrawnOverlay:
    return drawn(
        letter,
        "vertical",
        "black",
        Stroke(((x, 22.0), (x, 964.0)), Pen("black", 1.8, "standing"), "standing"),
        SignAt("hollow-bob", (x, 964.0), "black", 90),
        Tag((x, 76.0), "black", on_line=True, blank=True),
        standing=True,
    )


def tilt(letter: str, foot: Point, head: Point) -> DrawnOverlay:
    way, span = heading(foot, head), math.dist(foot, head)
    band = (foot, off(foot, way - 1.4, 1.62 * span), off(foot, way + 1.4, 1.62 * span))
    return drawn(
        letter,
        "tilt",
        "blue",
        Area(band, "blue"),
        Stroke((foot, off(foot, -90, 0.92 * span)), Pen("blue", 1.6, "plumb")),
        Arc(foot, 0.6 * span, -90, way, Pen("blue", 1.8)),
        Stroke((foot, head), Pen("blue", 2.8)),
        SignAt("dot", foot, "blue", size=4),
        SignAt("dot", head, "blue", size=4),
        Tag(off(foot, way, 1.62 * span), "blue", value="18.0°", pm="±2.6"),
    )


def shift(letter: str, then: Point, now: Point, value: str = "2.3 in") -> DrawnOverlay:
    way = heading(then, now)
    return drawn(
        letter,
        "shift",
        "vermilion",
        Band(now, 20.0, way, "vermilion"),
        Stroke((then, now), Pen("vermilion", 3)),
        SignAt("hollow", then, "vermilion"),
        SignAt("barb", now, "vermilion", way),
        Tag(off(now, way, 14), "vermilion", value=value, pm="±0.6"),
    )


def angle(letter: str, a: Point, v: Point, b: Point) -> DrawnOverlay:
    start, end = heading(v, a), heading(v, b)
    middle = (start + end) / 2
    return drawn(
        letter,
        "angle",
        "green",
        Stroke((v, a), Pen("green", 2.4, "angle")),
        Stroke((v, b), Pen("green", 2.4, "angle")),
        Arc(v, 60.0, start, end, Pen("green", 1.8), double=True),
        *(SignAt("dot", point, "green") for point in (a, v, b)),
        Tag(off(v, middle + 180, 9), "green", value="102°", pm="±3"),
    )


def ring(letter: str, centre: Point) -> DrawnOverlay:
    return drawn(
        letter,
        "ring",
        "black",
        Arc(centre, 56.0, 0, 360, Pen("black")),
        *(SignAt("tick", off(centre, turn, 56), "black", turn) for turn in (0, 90, 180, 270)),
        Tag(off(centre, 0, 56), "black", words="head stays inside"),
    )


def path(letter: str, points: tuple[Point, ...]) -> DrawnOverlay:
    return drawn(
        letter,
        "path",
        "purple",
        Stroke(points, Pen("purple", 2)),
        *(SignAt("bead", point, "purple") for point in points),
        Tag(points[len(points) // 2], "purple", words="hands, top to delivery"),
    )


def circle(letter: str, centre: Point, radius: float) -> DrawnOverlay:
    return drawn(
        letter,
        "circle",
        "orange",
        Arc(centre, radius, 0, 360, Pen("orange", 2, "circle")),
        SignAt("cross", centre, "orange"),
        Tag(off(centre, 30, radius), "orange", value="15.8 in", pm="±0.9"),
    )


def outline(letter: str, centre: Point) -> DrawnOverlay:
    points = tuple(
        (centre[0] + 44 * math.cos(t) - 6 * math.sin(t), centre[1] + 12 * math.cos(t) + 20 * math.sin(t))
        for t in (k * math.pi / 12 for k in range(24))
    )
    return drawn(
        letter,
        "outline",
        "sky",
        Area(points, "sky", layer="hatch", hatched=True),
        Stroke(points, Pen("sky", 2), closed=True),
        Tag(points[0], "sky", words="lead foot"),
    )


def instead(letter: str, v: Point, b: Point) -> DrawnOverlay:
    start, radius = heading(v, b), math.dist(v, b)
    end = off(v, start + 26, radius)
    return drawn(
        letter,
        "instead",
        "yellow",
        Arc(v, radius, start, start + 26, Pen("black", 1.6, "arc")),
        Stroke((v, end), Pen("yellow", 3, "instead")),
        SignAt("hollow", b, "yellow", size=3.4),
        SignAt("dot", end, "yellow", size=5),
        Tag(end, "yellow", value="16.1 in", pm="±1.3"),
    )


def distance(letter: str, a: Point, b: Point) -> DrawnOverlay:
    low_a, low_b = (a[0], a[1] + 90), (b[0], b[1] + 90)
    witness = Pen("black", 1.1)
    return drawn(
        letter,
        "distance",
        "black",
        Stroke((a, low_a), witness),
        Stroke((b, low_b), witness),
        Stroke((low_a, low_b), Pen("black", 1.8)),
        SignAt("oblique", low_a, "black", heading(low_a, low_b)),
        SignAt("oblique", low_b, "black", heading(low_a, low_b)),
        Tag(off(low_a, 0, 100), "black", value="17.2 in", pm="±0.4"),
    )


def horizontal(letter: str, y: float, left: float, right: float) -> DrawnOverlay:
    return drawn(
        letter,
        "horizontal",
        "black",
        Stroke(((left, y), (right, y)), Pen("black")),
        SignAt("stop", (left, y), "black", 0),
        SignAt("stop", (right, y), "black", 0),
        Tag((right, y), "black", words="knees"),
    )


def line(letter: str, a: Point, b: Point, words: str = "shoulders") -> DrawnOverlay:
    return drawn(
        letter,
        "line",
        "black",
        Stroke((a, b), Pen("black")),
        SignAt("dot", a, "black"),
        SignAt("dot", b, "black"),
        Tag(off(a, heading(a, b), math.dist(a, b) / 2), "black", words=words),
    )


def arrow(letter: str, a: Point, b: Point) -> DrawnOverlay:
    return drawn(
        letter,
        "arrow",
        "black",
        Stroke((a, b), Pen("black")),
        SignAt("barb", b, "black", heading(a, b)),
        Tag(off(a, heading(a, b), math.dist(a, b) / 2), "black", words="lead hip leads"),
    )


def note(letter: str, at: Point) -> DrawnOverlay:
    return drawn(
        letter,
        "note",
        "black",
        SignAt("dot", at, "black", size=3),
        Tag(at, "black", words="elbow in front of the hip"),
    )


def grid(zero: Point, step: float) -> DrawnOverlay:
    places = [
        (zero[0] + i * step, zero[1] + j * step)
        for i in range(-4, 5)
        for j in range(-5, 6)
        if 0 < zero[0] + i * step < SIZE[0] and 0 < zero[1] + j * step < SIZE[1]
    ]
    return drawn("", "grid", "black", *(SignAt("cross", p, "black", size=9, layer="band") for p in places))


def speed(letter: str, at: Point) -> DrawnOverlay:
    tip = off(at, 160, 90)
    return drawn(
        letter,
        "speed",
        "purple",
        Stroke((at, tip), Pen("purple", 2)),
        SignAt("bead", at, "purple"),
        SignAt("barb", tip, "purple", 160),
        Tag(tip, "purple", value="31 mph", pm="±4"),
    )


def turn(letter: str, then: tuple[Point, Point], now: tuple[Point, Point]) -> DrawnOverlay:
    return drawn(
        letter,
        "turn",
        "sky",
        Stroke(then, Pen("sky", 2, "then")),
        Stroke(now, Pen("sky", 2)),
        *(SignAt("hollow", point, "sky") for point in then),
        *(SignAt("dot", point, "sky") for point in now),
        Tag(now[1], "sky", value="41°", pm="±9"),
    )


def clock(letter: str, centre: Point, hand: Point) -> DrawnOverlay:
    ticks = (
        SignAt("tick", off(centre, 30 * k - 90, 40), "black", 30 * k - 90, size=6 if k else 10)
        for k in range(12)
    )
    return drawn(
        letter,
        "clock",
        "black",
        Stroke((centre, hand), Pen("black")),
        *ticks,
        Tag(hand, "black", value="10:05", pm="±0:05"),
    )


def balance(letter: str, at: Point, left: Point, right: Point) -> DrawnOverlay:
    foot = (at[0], left[1])
    return drawn(
        letter,
        "balance",
        "orange",
        Stroke((at, foot), Pen("orange", 2, "balance")),
        SignAt("disc", at, "orange"),
        SignAt("stop", left, "orange", 0),
        SignAt("stop", right, "orange", 0),
        Tag(at, "orange", value="56 %", pm="±4"),
    )


def most_kinds(marks: dict[str, Point] = MARKS) -> Panel:
    """Sixteen kinds on one picture, as dense as a plate should ever get."""
    m = marks
    hands = ((246.0, 200.0), (204.0, 252.0), (186.0, 318.0), (199.0, 384.0))
    return panel_of(
        grid((m["navel-at-setup"][0], 994.0), 126.0),
        vertical("A", m["lead-hip"]),
        standing("B", m["navel-at-setup"][0]),
        horizontal("C", 670.0, 290.0, 596.0),
        line("D", m["trail-shoulder"], m["lead-shoulder"]),
        arrow("E", (640.0, 560.0), (522.0, 512.0)),
        ring("F", m["head"]),
        note("G", (262.0, 470.0)),
        outline("H", (526.0, 862.0)),
        tilt("J", m["navel"], m["c7"]),
        angle("K", m["implement-head"], m["lead-wrist"], m["lead-elbow"]),
        distance("L", m["trail-ankle"], m["lead-ankle"]),
        shift("M", (m["navel-at-setup"][0], 545.0), (m["navel"][0] + 20, 545.0)),
        path("P", hands),
        circle("Q", (376.0, 359.0), 166.0),
        instead("R", m["lead-wrist"], m["implement-head"]),
        marks=m,
    )


def other_kinds(marks: dict[str, Point] = MARKS) -> Panel:
    """The kinds that `most_kinds` leaves out, and a pelvis shift long enough for its barb."""
    m = marks
    return panel_of(
        standing("A", m["navel-at-setup"][0] - 36),
        standing("B", m["navel-at-setup"][0]),
        standing("C", m["navel-at-setup"][0] + 36),
        speed("D", m["implement-head"]),
        turn("E", ((330.0, 500.0), (470.0, 480.0)), ((352.0, 508.0), m["lead-hip"])),
        clock("F", m["lead-shoulder"], m["lead-wrist"]),
        balance("G", (430.0, 560.0), m["trail-ankle"], m["lead-ankle"]),
        shift("H", (m["navel-at-setup"][0] - 80, 620.0), (m["navel"][0], 620.0), "7.4 in"),
        marks=m,
    )


def cropped(panel: Panel, crop: tuple[float, float, float, float]) -> Panel:
    return replace(panel, crop=crop)
