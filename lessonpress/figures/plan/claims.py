"""The ids that a figure gives, or would give without its mistakes, so that uses of one are no second error.

Where a mistake leaves nothing to read an id from, or an id that the text nowhere prints, ANY is among them:
every id that the text prints may be the one that is missing. printed: the ids that the lesson's text prints.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from collections.abc import Sequence as SequenceOf

from lessonpress.figures.plan.fields import Shot
from lessonpress.manuscript import Mapping, Node, Scalar, Sequence, plain_name

ANY = "*"  # no id is written so


def by_measure(name: str, kind: str, shots: SequenceOf[Shot]) -> Iterator[str]:
    """Every name of an overlay's measure on a figure's pictures. kind: the figure's."""
    for number, shot in enumerate(shots, start=1):
        yield f"{name}{shot.suffix}"
        if kind == "strip":
            yield f"{name}.{number}"
    if kind == "pair":
        yield f"{name}.difference"


def by_overlay(node: Node, printed: Collection[str]) -> Iterator[str]:
    """By an overlay that could not be read, or by a set in its place."""
    entries = node.entries if isinstance(node, Mapping) else ()
    says_nothing = all(isinstance(value, Scalar) and not value.written for _, value in entries)
    if says_nothing or any(key.written == "use" for key, _ in entries):
        yield ANY
    else:
        yield from by_key("as", node, printed)


def by_block(node: Mapping, printed: Collection[str]) -> Iterator[str]:
    """By a figure whose own keys hold mistakes; what its overlays give away is theirs."""
    yield from by_key("id", node, printed)
    if not isinstance(node.get("draw"), Sequence | None):
        yield ANY


_GIVEN = re.compile(r"^[\s>-]*\{?\s*(?:id|as)\s*:\s*[^\w\n]?(?P<name>[a-z][a-z0-9-]*)", re.MULTILINE)
_INSIDE = re.compile(r"[{,]\s*as\s*:\s*[^\w\n]?(?P<name>[a-z][a-z0-9-]*)")


def by_text(text: str) -> Iterator[str]:
    """By a figure whose YAML is broken: what is after `id:` and `as:`, spaced and quoted in any way."""
    for pattern in (_GIVEN, _INSIDE):
        yield from (match["name"] for match in pattern.finditer(text))


def by_key(key: str, node: Node, printed: Collection[str]) -> Iterator[str]:
    """By `id` or `as` with a value that is no id: what is written, and the name that it would be."""
    value = node.get(key) if isinstance(node, Mapping) else None
    meant = (value.written, plain_name(value.written)) if isinstance(value, Scalar) else ()
    yield from meant
    if value is not None and not any(name in printed for name in meant):
        yield ANY
