"""The table of overlay kinds."""

from __future__ import annotations

from lessonpress.overlays import (
    angle,
    arrow,
    clock,
    distance,
    grid,
    horizontal,
    line,
    note,
    outline,
    ring,
    shift,
    tilt,
    vertical,
)
from lessonpress.overlays.kind import OverlayKind

# in the order in which the handbook tells them
KINDS: tuple[OverlayKind, ...] = (
    vertical,
    horizontal,
    line,
    arrow,
    ring,
    note,
    outline,
    grid,
    tilt,
    angle,
    distance,
    shift,
    clock,
)

_BY_NAME = {kind.KIND: kind for kind in KINDS}


def kind_named(name: str) -> OverlayKind | None:
    """The kind that a key names."""
    return _BY_NAME.get(name)


def kind_names() -> tuple[str, ...]:
    return tuple(_BY_NAME)
