"""What may be composed, and the text of figure blocks and of new lessons, as the handbook writes them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from datetime import date
from typing import Any

from lessonpress.desk.http.requests import WriteBlock
from lessonpress.figures import SurveyedClip, frame_of_instant
from lessonpress.manuscript import (
    Block,
    InvalidValueError,
    Node,
    Scalar,
    block_yaml,
    fenced,
    file_passage,
    keys_of,
    parse_instant,
    read_lesson,
    written,
)
from lessonpress.manuscript import Sequence as NodeSequence
from lessonpress.overlays import OverlayKind, measures
from lessonpress.records import Location, Problems

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
    text = block_yaml(asked.fields)
    return {"text": text, "block": fenced(asked.kind, text)}


def new_lesson(title: str, clip: str, on: date, filmed: SurveyedClip, blocks: Sequence[str] | None) -> str:
    """A lesson from a clip, its figures in the order of the swing; without blocks, a frame for each event."""
    if blocks is None:
        events = sorted(filmed.events, key=lambda event: filmed.events[event])
        blocks = [fenced("frame", block_yaml({"id": event, "at": event})) for event in events]
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
