"""Which marks of a clip its figures and its card ask for, by the names that they write."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lessonpress.manuscript import Clip, Lesson, Mapping, Node, Sequence


def marks_used(clip: Clip, lessons: Iterable[Lesson], sets: Iterable[Node]) -> frozenset[str]:
    """The marks that a clip's lessons, the site's sets of overlays or its own card name."""
    blocks = [block.node for lesson in lessons for block in lesson.blocks]
    card = clip.readable.node if clip.readable else None
    return frozenset(name for node in (*blocks, *sets, card) for name in _words(node))


def _words(node: Node | None) -> Iterator[str]:
    """Every key and every value that is written in a node."""
    if isinstance(node, Sequence):
        for item in node.items:
            yield from _words(item)
    elif isinstance(node, Mapping):
        for key, value in node.entries:
            yield key.written
            yield from _words(value)
    elif node is not None:
        yield node.written
