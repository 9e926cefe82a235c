"""The ids that a figure gives away, or would without its mistakes: what prints one is no second slip."""

from __future__ import annotations

import re
from collections.abc import Iterator
from collections.abc import Sequence as SequenceOf

from lessonpress.figures.fields import Shot
from lessonpress.manuscript.names import plain_name
from lessonpress.manuscript.nodes import Mapping, Node, Scalar, Sequence


def by_measure(name: str, kind: str, shots: SequenceOf[Shot]) -> Iterator[str]:
    """Every name of an overlay's measure on a figure's pictures. kind: the figure's."""
    for number, shot in enumerate(shots, start=1):
        yield f"{name}{shot.suffix}"
        if kind == "strip":
            yield f"{name}.{number}"
    if kind == "pair":
        yield f"{name}.difference"


def by_overlay(node: Node) -> Iterator[str]:
    """By an overlay that could not be read."""
    return _under("as", node)


def by_block(node: Node | None) -> Iterator[str]:
    """By a figure that could not be read, and by what it draws."""
    yield from _under("id", node)
    drawn = node.get("draw") if isinstance(node, Mapping) else None
    for entry in drawn.items if isinstance(drawn, Sequence) else ():
        yield from by_overlay(entry)


_GIVEN = re.compile(r"^[\s>-]*\{?\s*(?:id|as)\s*:\s*[^\w\n]?(?P<name>[a-z][a-z0-9-]*)", re.MULTILINE)
_INSIDE = re.compile(r"[{,]\s*as\s*:\s*[^\w\n]?(?P<name>[a-z][a-z0-9-]*)")


def by_text(text: str) -> Iterator[str]:
    """By a figure whose YAML is broken: what is after `id:` and `as:`, spaced and quoted in any way."""
    for pattern in (_GIVEN, _INSIDE):
        yield from (found["name"] for found in pattern.finditer(text))


def _under(key: str, node: Node | None) -> Iterator[str]:
    value = node.get(key) if isinstance(node, Mapping) else None
    if isinstance(value, Scalar):
        yield value.written
        yield plain_name(value.written)
