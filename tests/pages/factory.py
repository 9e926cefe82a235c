"""Hand-made bound sites: plates, measures and lessons as figures would pass them on.

The golfer, the studio, the numbers and their shares are invented; the pictures are drawn by `drawn_picture`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageDraw

from lessonpress.figures.plates import (
    BoundLesson,
    BoundSite,
    Credit,
    DrawnOverlay,
    Key,
    Panel,
    Plate,
    ScaleBar,
)
from lessonpress.manuscript.lesson.lesson import Block, Front, Lesson
from lessonpress.manuscript.lesson.page import Page, PageFront
from lessonpress.manuscript.site.site import Site, SiteFile
from lessonpress.manuscript.text.passage import Passage, Row
from lessonpress.overlays.shapes import Arc, Area, Band, Colour, Pen, SignAt, Stroke, Tag
from lessonpress.records import Point
from lessonpress.records.measure import Budget, Measure, Share
from lessonpress.records.problem import Location

SIZE = (800, 1000)
CREDIT = Credit("Drawn studio of Saltmarsh Notebook", "CC BY 4.0")
MARKS: dict[str, dict[str, Point]] = {
    "setup": {
        "navel": (411, 461),
        "c7": (394, 318),
        "trail-hip": (371, 480),
        "lead-hip": (453, 480),
        "head": (391, 276),
    },
    "top": {
        "navel": (369, 460),
        "c7": (386, 318),
        "trail-hip": (327, 478),
        "lead-hip": (381, 478),
        "head": (383, 270),
    },
    "impact": {
        "navel": (487, 455),
        "c7": (405, 318),
        "trail-hip": (430, 480),
        "lead-hip": (520, 470),
        "head": (380, 272),
    },
}
TITLES = {"dune-face-on": "Dune, face-on, 7-iron", "shingle-face-on": "Shingle, face-on, 7-iron"}
FRAMES = {"setup": (12, 0.05), "top": (192, 0.80), "impact": (252, 1.05)}
PX_PER_METRE = 413.0


def measure(name: str = "navel-back", **changes: Any) -> Measure:
    """A shift of the navel, 4.02 in away from the target, unless stated otherwise."""
    values: dict[str, Any] = {
        "id": name,
        "kind": "shift",
        "dimension": "length",
        "figure": "top",
        "letter": "E",
        "clips": ("dune-face-on",),
        "value": -4.02,
        "uncertainty": 0.55,
        "k": 2.0,
        "low": -4.57,
        "high": -3.47,
        "unit": "in",
        "axis": "level",
        "way": "away from the target",
        "plane": "subject plane, face-on",
        "frames": (12, 192),
        "since": "setup",
        "marks": ("navel",),
        "assumed": ("one plumb line: pitch 0°, u 3°",),
        "expect": None,
        "answer": None,
        "refused": None,
        "way_out": None,
        "words": "shift of the navel since setup",
        "budget": Budget(
            formula="shift = (x now − x then) ÷ scale",
            worked="shift = (369.0 px − 411.0 px) ÷ 10.5 px/in = −4.0 in",
            shares=(
                Share("click on navel, frame 192, across", 369.0, 1.5, "px", 0.61),
                Share("length of the stick", 36.0, 0.06, "in", 0.27),
                Share("depth of the navel", 0.0, 0.05, "m", 0.12),
            ),
            method="first order (JCGM 100)",
        ),
    }
    return Measure(**{**values, **changes})


def refused(name: str = "head-speed", **changes: Any) -> Measure:
    return measure(
        name,
        **{
            "kind": "speed",
            "dimension": "speed",
            "letter": "H",
            "value": None,
            "uncertainty": None,
            "k": None,
            "low": None,
            "high": None,
            "unit": None,
            "way": "",
            "words": "speed of the clubhead",
            "refused": "the clubhead turns 41° from frame to frame",
            "way_out": "film at 240 pictures per second or more",
            "budget": None,
            "frames": (252,),
            **changes,
        },
    )


BACK = measure()
TILT = measure(
    "spine-tilt",
    kind="tilt",
    dimension="angle",
    figure="impact",
    letter="D",
    value=-29.24,
    uncertainty=2.6,
    unit="deg",
    low=-31.9,
    high=-26.6,
    axis=None,
    frames=(252,),
    since=None,
    marks=("navel", "c7"),
    expect="25..35 deg away",
    answer="inside",
    words="tilt of the line from navel to C7",
)
THROUGH = measure(
    "navel-through", figure="impact", value=7.41, uncertainty=0.62, way="toward the target", frames=(12, 252)
)


def standing(letter: str, mark: str) -> DrawnOverlay:
    x, _y = MARKS["setup"][mark]
    line = Stroke(((x, 0.0), (x, 960.0)), Pen("black", 1.8, "standing"), "standing", through=True)
    return DrawnOverlay(
        letter=letter,
        kind="vertical",
        colour="black",
        shown=True,
        standing=True,
        name=f"{mark} at setup",
        sentence=f"A plumb line stands where the {mark} was at setup",
        shapes=(
            line,
            SignAt("hollow-bob", (x, 940.0), "black", 90.0),
            Tag((x, 60.0), "black", on_line=True, blank=True),
        ),
        measure=None,
    )


def vertical(letter: str, mark: str, event: str) -> DrawnOverlay:
    x, y = MARKS[event][mark]
    line = Stroke(((x, y), (x, 940.0)), Pen("black", 2.5), through=True)
    return DrawnOverlay(
        letter=letter,
        kind="vertical",
        colour="black",
        shown=True,
        standing=False,
        name=f"plumb line through the {mark}",
        sentence=f"A plumb line is dropped from the {mark}",
        shapes=(
            line,
            SignAt("hollow", (x, y), "black"),
            SignAt("bob", (x, 940.0), "black", 90.0),
            Tag((x, 760.0), "black", on_line=True),
        ),
        measure=None,
    )


def shift(found: Measure, event: str, letter: str = "E") -> DrawnOverlay:
    (x0, y0), (x1, _) = MARKS["setup"]["navel"], MARKS[event]["navel"]
    toward = 0.0 if x1 > x0 else 180.0
    return DrawnOverlay(
        letter=letter,
        kind="shift",
        colour="vermilion",
        shown=True,
        standing=False,
        name=found.words,
        sentence="The navel has moved 4.0 in ± 0.6 away from the target since setup",
        shapes=(
            Band((x1, y0), 12.0, 0.0, "vermilion"),
            Stroke(((x0, y0), (x1, y0)), Pen("vermilion", 3.0)),
            SignAt("hollow", (x0, y0), "vermilion"),
            SignAt("barb", (x1, y0), "vermilion", toward),
            Tag((x1, y0), "vermilion", "", f"{abs(found.value or 0):.1f} in", "±0.6"),
        ),
        measure=found,
    )


def tilt(found: Measure, event: str, letter: str = "D") -> DrawnOverlay:
    (x0, y0), (x1, y1) = MARKS[event]["navel"], MARKS[event]["c7"]
    top = (x0 + 1.5 * (x1 - x0), y0 + 1.5 * (y1 - y0))
    lean = math.degrees(math.atan2(y1 - y0, x1 - x0))
    pen = Pen("blue", 2.8)
    return DrawnOverlay(
        letter=letter,
        kind="tilt",
        colour="blue",
        shown=True,
        standing=False,
        name=found.words,
        sentence="The line from navel to C7 leans 29.2° ± 2.6 away from the target",
        shapes=(
            Area(((x0, y0), (top[0] - 8, top[1]), (top[0] + 8, top[1])), "blue"),
            Stroke(((x0, y0), (x0, y0 - 170)), Pen("blue", 1.6, "plumb")),
            Arc((x0, y0), 96.0, lean, -90.0, Pen("blue", 1.8, "arc")),
            Stroke(((x0, y0), (x1, y1)), pen),
            SignAt("dot", (x0, y0), "blue"),
            SignAt("dot", (x1, y1), "blue"),
            Tag(top, "blue", "", "29.2°", "±2.6"),
        ),
        measure=found,
    )


def panel(event: str, drawn: Iterable[DrawnOverlay], clip: str = "dune-face-on", **changes: Any) -> Panel:
    frame, seconds = FRAMES[event]
    head = MARKS[event]["head"]
    values: dict[str, Any] = {
        "clip": clip,
        "title": TITLES[clip],
        "frame": frame,
        "event": event,
        "label": event.capitalize(),
        "seconds": seconds,
        "size": SIZE,
        "crop": (0.0, 0.0, 800.0, 1000.0),
        "drawn": tuple(drawn),
        "marks": tuple(MARKS[event].values()),
        "keep_clear": ((head[0] - 45.0, head[1] - 55.0, head[0] + 45.0, head[1] + 45.0),),
        "bar": ScaleBar(PX_PER_METRE, MARKS["setup"]["navel"][0], 1, "target"),
        "credit": CREDIT,
        "alt": f"Face-on at {event}. Lines show where the hips were at setup.",
    }
    return Panel(**{**values, **changes})


def plate(name: str, numeral: str, line: int, panels: Iterable[Panel], **changes: Any) -> Plate:
    values: dict[str, Any] = {
        "id": name,
        "kind": "frame",
        "numeral": numeral,
        "line": line,
        "panels": tuple(panels),
        "caption": "",
        "caption_line": line + 2,
        "alt": "A golfer seen face-on.",
        "description": "Face-on: a frame of “Dune, face-on, 7-iron”.\nA: a plumb line.",
        "mirrored": False,
        "keys": (),
        "measures": (),
    }
    return Plate(**{**values, **changes})


def key(letters: str, colour: Colour, words: str, *names: str, blank: bool = False) -> Key:
    return Key(tuple(letters), colour, blank, words, names)


def block(kind: Any, line: int, text: str = "") -> Block:
    location = Location("lessons/lesson.md", line)
    rows = tuple(Row(number, 0, row) for number, row in enumerate(text.split("\n"), line + 1))
    return Block(kind, line, None, text, location, Passage(location.path, text, rows))


def lesson(name: str, body: str = "", blocks: tuple[Block, ...] = (), **front: Any) -> Lesson:
    """A lesson whose body begins in line 10 of its file; front: what its front matter says otherwise."""
    values: dict[str, Any] = {
        "title": "The pelvis travels, the hub stays",
        "date": date(2026, 11, 23),
        "summary": "Three frames that show how far the hips move while the neck keeps its place.",
        "clip": "dune-face-on",
        "number": 48,
        "topics": ("pelvis", "hub"),
    }
    return Lesson(name, f"lessons/{name}.md", Front.model_construct(**{**values, **front}), body, 10, blocks)


def site(lessons: tuple[Lesson, ...] = (), pages: Iterable[Page] = (), **changes: Any) -> Site:
    """changes: of `site.yaml`, and the glossary."""
    glossary = changes.pop("glossary", {})
    values: dict[str, Any] = {
        "title": "Saltmarsh Notebook",
        "author": "Marram Hale",
        "url": "https://saltmarsh.example/notebook/",
    }
    file = SiteFile.model_construct(**{**values, **changes})
    return Site(Path("site"), file, glossary, {}, lessons, {page.name: page for page in pages})


def page(name: str, title: str, body: str) -> Page:
    return Page(name, f"pages/{name}.md", PageFront.model_construct(title=title), body, 5)


def bound(*lessons: BoundLesson, **changes: Any) -> BoundSite:
    """A site of these lessons, which come newest first."""
    made = site(tuple(one.lesson for one in lessons), **changes)
    return BoundSite(made, tuple(lessons), {})


BODY = """\
## Drop three lines and leave them

At setup, drop a line from each hip bone and one from the navel. They belong to the room now, not to the body.

```frame
id: setup
at: setup
```

By the top the navel has moved {navel-back} ({figure:top}). Then it turns round and runs to
{navel-through:size} in front of its line. The hub *stayed*, and that alone leans the spine
{spine-tilt}: {spine-tilt:answer}.

```strip
id: top
```

## Where it comes from

The pelvis went out from under a hub that stayed.

```frame
id: impact
at: impact
```

> Nobody had to tip backwards to get it.

```drill
```

Some words after the drill, with a footnote.[^1]

[^1]: A note at the foot.
"""
DRILL = """\
### Wall at the trail hip

1. Stand at setup with the trail hip one hand from a wall.
2. Swing back slowly until the hip touches. Stop there and breathe.
3. Leave the wall with the hip before the hands come down.

Ten, slow, no ball.
"""


def line_of(fence: str, count: int = 1) -> int:
    """The file line of the count-th such fence of `BODY`, whose first line is line 10 of its file."""
    lines = [number for number, line in enumerate(BODY.split("\n"), 10) if line == f"```{fence}"]
    return lines[count - 1]


HIPS = (("A", "trail-hip"), ("B", "navel"), ("C", "lead-hip"))
STANDING_KEY = key("ABC", "black", "standing since setup: trail hip, navel, lead hip", blank=True)
DROPPED_KEY = key("ABC", "black", "plumb lines through trail hip, navel, lead hip")
TILT_KEY = key("D", "blue", "tilt, navel to C7", "spine-tilt")
COLOURS: dict[str, Colour] = {
    "navel-back": "vermilion",
    "navel-through": "vermilion",
    "spine-tilt": "blue",
    "head-speed": "purple",
}


def lines_standing() -> list[DrawnOverlay]:
    return [standing(letter, mark) for letter, mark in HIPS]


def at_setup() -> Panel:
    return panel("setup", [vertical(letter, mark, "setup") for letter, mark in HIPS])


def at_top() -> Panel:
    return panel("top", [*lines_standing(), shift(BACK, "top")])


def at_impact() -> Panel:
    return panel("impact", [*lines_standing(), tilt(TILT, "impact"), shift(THROUGH, "impact")])


def opening_plate() -> Plate:
    return plate(
        "setup", "I", line_of("frame"), [at_setup()], caption="Three lines are dropped.", keys=(DROPPED_KEY,)
    )


def strip_plate() -> Plate:
    return plate(
        "top",
        "II",
        line_of("strip"),
        [at_setup(), at_top(), at_impact()],
        kind="strip",
        caption="The pelvis goes {navel-back} and comes back; the head keeps its place.",
        keys=(STANDING_KEY, shift_key("navel-back", "navel-through"), TILT_KEY),
        measures=("navel-back", "navel-through", "spine-tilt"),
    )


def last_plate() -> Plate:
    return plate(
        "impact",
        "III",
        line_of("frame", 2),
        [at_impact()],
        caption="The pelvis has left its lines; the neck has not.",
        keys=(STANDING_KEY, TILT_KEY, shift_key("navel-through")),
        measures=("spine-tilt", "navel-through"),
    )


def shift_key(*names: str) -> Key:
    return key("E", "vermilion", "shift of the navel since setup", *names)


def whole_lesson(name: str = "pelvis", **front: Any) -> BoundLesson:
    """A lesson with an opening frame, a strip, a frame, a drill and four measures, one of them refused."""
    written = lesson(name, BODY, (block("drill", line_of("drill"), DRILL),), **front)
    measures = {one.id: one for one in (BACK, THROUGH, TILT, refused())}
    return BoundLesson(written, (opening_plate(), strip_plate(), last_plate()), measures, COLOURS)


def bare_lesson(name: str, **changes: Any) -> BoundLesson:
    """Words alone."""
    return BoundLesson(lesson(name, "Words alone.\n", **changes), (), {}, {})


def drawn_picture(event: str) -> np.ndarray:
    """A golfer of sticks and ovals before a wall, 1000 × 800 px, RGB."""
    image = Image.new("RGB", SIZE, "#B9A48C")
    pen = ImageDraw.Draw(image)
    for row in range(0, 800, 40):
        pen.line((0, row, 800, row), fill="#D8CCBC", width=3)
        for column in range(-40 + row % 80, 800, 80):
            pen.line((column, row, column, row + 40), fill="#D8CCBC", width=3)
    pen.rectangle((0, 790, 800, 1000), fill="#4C7A4A")
    marks = MARKS[event]
    hips, neck, head = marks["navel"], marks["c7"], marks["head"]
    for foot in ((320, 858), (510, 858)):
        pen.line((*hips, (foot[0] + hips[0]) / 2, 650, *foot), fill="#D9CDB8", width=58, joint="curve")
        pen.ellipse((foot[0] - 45, foot[1] - 18, foot[0] + 45, foot[1] + 22), fill="#F4F1EA")
    pen.line((*hips, *neck), fill="#4E7FA6", width=120)
    pen.ellipse((neck[0] - 75, neck[1] - 30, neck[0] + 75, neck[1] + 70), fill="#4E7FA6")
    pen.ellipse((head[0] - 42, head[1] - 50, head[0] + 42, head[1] + 45), fill="#EFEBE2")
    return np.asarray(image)
