"""What may be composed, and the text of figure blocks and of new lessons, as the handbook writes them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from datetime import date
from itertools import groupby
from typing import Any

from lessonpress.desk.files.yamltext import written
from lessonpress.desk.http.requests import WriteBlock
from lessonpress.figures import SurveyedClip, frame_of_instant
from lessonpress.manuscript import (
    Block,
    InvalidValueError,
    Node,
    Scalar,
    file_passage,
    keys_of,
    parse_instant,
    read_lesson,
)
from lessonpress.manuscript import Sequence as NodeSequence
from lessonpress.overlays import OverlayKind, measures
from lessonpress.records import Location, Problems

ORDER = (
    "id",
    "clip",
    "at",
    "frames",
    "of",
    "from",
    "to",
    "slowed",
    "caption",
    "alt",
    "crop",
    "mirrored",
    "draw",
)


# not offered for an overlay that is composed: it is shown, and on every picture of its figure
UNOFFERED = ("show", "only")


def kind_json(kind: OverlayKind) -> dict[str, Any]:
    """A kind as the sheet needs it: its name, its letter, what it asks for, what may be added."""
    fields = kind.Fields
    asked = {kind.KIND, *(question.key for question in fields.QUESTIONS)}
    return {
        "kind": kind.KIND,
        "letter": fields.LETTER,
        "measures": measures(kind),
        "least": fields.COUNT[0],
        "most": fields.COUNT[1],
        "questions": [asdict(question) for question in fields.QUESTIONS],
        "keys": [key for key in keys_of(fields) if key not in asked and key not in UNOFFERED],
    }


def block(asked: WriteBlock) -> dict[str, str]:
    """What `POST /api/block` answers: a block's YAML, and the same inside its fences."""
    text = yaml_of(asked.fields)
    return {"text": text, "block": fenced(asked.kind, text)}


def yaml_of(fields: Mapping[str, Any]) -> str:
    """A block's fields, a line each in the usual order; overlays a line a key, the kind's first."""
    ordered = sorted(fields, key=lambda key: ORDER.index(key) if key in ORDER else len(ORDER) - 1.5)
    lines = []
    for key in ordered:
        value = fields[key]
        if value is None or value == []:
            continue
        if key == "draw" and isinstance(value, list):
            lines.append("draw:")
            for overlay in value:
                lines += _overlay(overlay)
        else:
            lines.append(f"{written(key)}: {written(value)}")
    return "".join(line + "\n" for line in lines)


def fenced(kind: str, text: str) -> str:
    longest = max((len(list(run)) for tick, run in groupby(text, lambda one: one == "`") if tick), default=0)
    fence = "`" * max(3, longest + 1)
    return f"{fence}{kind}\n{text.rstrip()}\n{fence}\n"


def _overlay(overlay: Any) -> list[str]:
    if not isinstance(overlay, dict) or not overlay:
        return [f"  - {written(overlay)}"]
    kind = next(iter(overlay))  # written even where it takes no mark, as `grid:` does
    pairs = [
        f"{written(key)}:" if value is None else f"{written(key)}: {written(value)}"
        for key, value in overlay.items()
        if value is not None or key == kind
    ]
    return [f"  - {pairs[0]}", *(f"    {pair}" for pair in pairs[1:])]


def new_lesson(title: str, clip: str, on: date, filmed: SurveyedClip, blocks: Sequence[str] | None) -> str:
    """A lesson from a clip, its figures in the order of the swing; without blocks, a frame for each event."""
    if blocks is None:
        events = sorted(filmed.events, key=lambda event: filmed.events[event])
        blocks = [fenced("frame", yaml_of({"id": event, "at": event})) for event in events]
    figures = sorted(blocks, key=lambda one: _frame_of(one, filmed))
    front = f"---\ntitle: {written(title)}\ndate: {on.isoformat()}\nclip: {written(clip)}\n---\n"
    return "\n".join([front, *(figure.strip("\n") + "\n" for figure in figures)])


def _frame_of(text: str, filmed: SurveyedClip) -> int:
    """The first frame that a block shows; blocks that name none come last."""
    head = "---\ntitle: x\ndate: 2000-01-01\n---\n"
    lesson = read_lesson("x", file_passage("x", head + text), Problems())
    frames = [frame for block in (lesson.blocks if lesson else ()) for frame in _frames(block, filmed)]
    return frames[0] if frames else len(filmed.index)


def _frames(one: Block, filmed: SurveyedClip) -> Iterable[int]:
    for key in ("at", "frames", "from"):
        node = one.node.get(key) if one.node is not None else None
        for scalar in _scalars(node):
            try:
                asked = parse_instant(scalar.written, None)
            except InvalidValueError:
                continue
            frame = frame_of_instant(
                asked, filmed.events, filmed.index, Location("x"), Problems(), filmed.clip
            )
            if frame is not None:
                yield frame


def _scalars(node: Node | None) -> list[Scalar]:
    if isinstance(node, NodeSequence):
        return [item for item in node.items if isinstance(item, Scalar)]
    return [node] if isinstance(node, Scalar) else []
