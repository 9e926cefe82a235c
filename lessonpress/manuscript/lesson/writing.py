"""The text of figure blocks, as the handbook writes them."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby
from typing import Any

from lessonpress.manuscript.yaml.writing import written

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


def block_yaml(fields: Mapping[str, Any]) -> str:
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
    """A block inside a fence longer than any in its text."""
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
