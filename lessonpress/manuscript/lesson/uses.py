"""Which clips a lesson's figures show."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from lessonpress.manuscript.lesson.lesson import Lesson
from lessonpress.manuscript.yaml.nodes import Mapping, Node, Scalar, Sequence


@dataclass(frozen=True)
class Use:
    """Whether a lesson with a page shows a clip, and what gives the files of those that do."""

    shown: bool
    lessons: Callable[[], tuple[str, ...]] = tuple


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


def showing(clip: str, lessons: Iterable[Lesson]) -> tuple[str, ...]:
    """The files of those of the lessons that ask for a clip, in order."""
    return tuple(sorted(lesson.path for lesson in lessons if clip in clips_named(lesson)))


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
