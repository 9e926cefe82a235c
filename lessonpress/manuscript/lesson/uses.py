"""Which clips a lesson's figures show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lessonpress.manuscript.lesson.lesson import Lesson
from lessonpress.manuscript.yaml.nodes import Mapping, Node, Scalar, Sequence


def clips_named(lesson: Lesson) -> frozenset[str]:
    """The names of the clips that one lesson's figures ask for, whether there are such clips or not."""
    blocks = [block for block in lesson.blocks if block.is_figure]
    named = {name for block in blocks for name in _named(block.node)}
    if blocks and lesson.clip:
        named.add(lesson.clip)
    return frozenset(named)


def in_use(lessons: Iterable[Lesson]) -> frozenset[str]:
    """The names of the clips that any of the lessons asks for."""
    return frozenset(name for lesson in lessons for name in clips_named(lesson))


def _named(node: Node | None) -> Iterator[str]:
    """What is under `clip` and `clips`, wherever in a block."""
    if isinstance(node, Sequence):
        for item in node.items:
            yield from _named(item)
    elif isinstance(node, Mapping):
        for key, value in node.entries:
            if key.written in ("clip", "clips"):
                named = value.items if isinstance(value, Sequence) else (value,)
                yield from (one.written for one in named if isinstance(one, Scalar))
            else:
                yield from _named(value)
