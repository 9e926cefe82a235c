"""A measured lesson without a film: its text as an author writes it, its ledger as a document states it.

A line of a ledger is `ID: KIND of MARKS, VALUE UNIT ± U WAY, EVENT, RANGE: ANSWER`; the way, the event and
the range may be left out. Frames are those of `FRAMES`, and each figure of the text is a plate with a panel
for each event of its `at` or `frames`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import get_args

from lessonpress.figures.plates import BoundLesson, ClipFacts, DrawnOverlay, Panel, Plate, Timed
from lessonpress.manuscript.clip.card import Card
from lessonpress.manuscript.lesson.lesson import Block, read_lesson
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.manuscript.yaml.nodes import Mapping, Scalar, Sequence
from lessonpress.preflight import LessonSubject
from lessonpress.records import Dimension, Measure, Problems
from tests.pages import factory

FRONT = "---\ntitle: A lesson\ndate: 2026-11-23\nclip: dune-face-on\n---\n"
RANGES = frozenset({"belt-back", "belt-through", "lean-at-impact"})
FRAMES = {"setup": 12, "top": 192, "delivery": 230, "impact": 252, "finish": 350}
_ROW = re.compile(
    r"(?P<id>[\w.-]+): (?P<kind>\w+) of (?P<marks>[\w -]+), (?P<value>−?[\d.]+)"
    r"(?: (?P<unit>in|cm|deg|mph|%))? ± (?P<u>[\d.]+)"
    r"(?P<way>(?: (?:toward|away)[a-z ]*| up| down)?)(?:, (?P<event>[a-z]+))?"
    r"(?:, (?P<expect>[^:]+): (?P<answer>inside|outside|at its edge))?"
)
_DIMENSIONS: dict[str, Dimension] = {
    **dict.fromkeys(("tilt", "angle", "turn"), "angle"),
    "clock": "clock",
    "speed": "speed",
    "balance": "percent",
    "tempo": "ratio",
}


@dataclass(frozen=True)
class Written:
    """front: of the lesson, whole. ledger: its lines, as above. card: what is said of its clip.

    language: the site's.
    """

    body: str
    ledger: tuple[str, ...] = ()
    front: str = FRONT
    card: Card | None = None
    language: str = "en"


def measured(written: Written) -> LessonSubject:
    """The lesson as preflight sees it."""
    problems = Problems()
    lesson = read_lesson("lesson", file_passage("lessons/lesson.md", written.front + written.body), problems)
    assert lesson is not None, [one.wrong for one in problems.collected]
    measures = {one.id: one for one in map(measure_of, written.ledger)}
    plates = tuple(_plate(block) for block in lesson.blocks if block.is_figure)
    events = tuple(Timed(event, (frame,), frame / 240, 0.002) for event, frame in FRAMES.items())
    facts = ClipFacts("dune-face-on", "Dune", events, (), "stood still", 0, ())
    bound = BoundLesson(lesson, plates, measures, {}, measures, (facts,))
    cards = {"dune-face-on": written.card} if written.card else {}
    return LessonSubject(lesson, written.language, bound, "in", cards, RANGES)


def measure_of(line: str) -> Measure:
    """A row of the ledger. ValueError where the line is none."""
    row = _ROW.fullmatch(line)
    if row is None:
        raise ValueError(f"this is no row of a ledger: {line}")
    way = row["way"].strip()
    value, u = float(row["value"].replace("−", "-")), float(row["u"])
    value = -abs(value) if way.startswith("away") or way == "down" else value
    dimension = _DIMENSIONS.get(row["kind"], "length")
    assert dimension in get_args(Dimension)
    return factory.measure(
        row["id"],
        kind=row["kind"],
        dimension=dimension,
        value=value,
        uncertainty=u,
        low=value - u,
        high=value + u,
        unit="deg" if dimension == "clock" else row["unit"],
        way=way,
        marks=tuple(row["marks"].split()),
        frames=(FRAMES[row["event"]],) if row["event"] else (),
        expect=row["expect"],
        answer=row["answer"],
        words=f"{row['kind']} of {row['marks']}",
    )


def _plate(block: Block) -> Plate:
    panels = tuple(_panel(event, block) for event in _events(block))
    caption, alt = _said(block, "caption"), _said(block, "alt")
    return factory.plate(
        _said(block, "id") or "plate", "I", block.line, panels, kind=block.kind, caption=caption, alt=alt
    )


def _events(block: Block) -> list[str]:
    frames = block.node.get("frames") if block.node else None
    if isinstance(frames, Sequence):
        return [one.written for one in frames.items if isinstance(one, Scalar)]
    return [_said(block, "at") or "setup"]


def _panel(event: str, block: Block) -> Panel:
    drawn = block.node.get("draw") if block.node else None
    names = [_name(one) for one in (drawn.items if isinstance(drawn, Sequence) else ())]
    overlays = [
        DrawnOverlay("A", name.split()[0], "black", True, False, name, name, (), None) for name in names
    ]
    return replace(factory.panel("setup", overlays), event=event, frame=FRAMES[event], label=event)


def _name(entry: object) -> str:
    """What is drawn, in words: "shift navel"."""
    if not isinstance(entry, Mapping):
        return entry.written if isinstance(entry, Scalar) else ""
    key, value = entry.entries[0]
    marks = value.items if isinstance(value, Sequence) else (value,)
    return " ".join([key.written, *(one.written for one in marks if isinstance(one, Scalar))]).replace(
        "-", " "
    )


def _said(block: Block, key: str) -> str:
    value = block.node.get(key) if block.node else None
    return value.written if isinstance(value, Scalar) else ""
