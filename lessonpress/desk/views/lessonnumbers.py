"""The ids that lessons give to their numbers, told from their blocks alone: nothing is measured for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lessonpress.manuscript import Block, Lesson, Mapping, Scalar, Sequence

PAIRED = ("first", "second", "difference")


def numbers_of_lessons(lessons: Iterable[Lesson]) -> dict[str, tuple[str, ...]]:
    """By the id of a number, the lessons that have it, in their order."""
    found: dict[str, dict[str, None]] = {}
    for lesson in lessons:
        for block in lesson.blocks:
            for name in _ids(block):
                found.setdefault(name, {})[lesson.name] = None
    return {name: tuple(names) for name, names in found.items()}


def _ids(block: Block) -> Iterator[str]:
    """A strip's numbers have the instant behind the id, a pair's which of the two, a loop none."""
    node = block.node if isinstance(block.node, Mapping) else None
    draw = node.get("draw") if node is not None else None
    for overlay in draw.items if isinstance(draw, Sequence) else ():
        given = overlay.get("as") if isinstance(overlay, Mapping) else None
        if isinstance(given, Scalar):
            yield from (f"{given.written}{suffix}" for suffix in _suffixes(block.kind, node))


def _suffixes(kind: str, node: Mapping | None) -> Iterator[str]:
    if kind == "pair":
        yield from (f".{one}" for one in PAIRED)
    elif kind in ("strip", "progress"):
        several = node.get("frames" if kind == "strip" else "clips") if node is not None else None
        names = several.items if isinstance(several, Sequence) else ()
        yield from (f".{one.written}" for one in names if isinstance(one, Scalar))
    elif kind == "frame":
        yield ""
