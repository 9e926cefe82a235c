"""The table of overlay kinds."""

from __future__ import annotations

from lessonpress.overlays import (
    angle,
    arrow,
    balance,
    circle,
    clock,
    distance,
    grid,
    horizontal,
    instead,
    line,
    note,
    outline,
    path,
    ring,
    shift,
    speed,
    tilt,
    turn,
    vertical,
)
from lessonpress.overlays.kind import OverlayKind

# in the order of the handbook
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
    turn,
    clock,
    path,
    speed,
    circle,
    balance,
    instead,
)

_BY_NAME = {kind.KIND: kind for kind in KINDS}


def kind_named(name: str) -> OverlayKind | None:
    """The kind that a key names."""
    return _BY_NAME.get(name)


def kind_names() -> tuple[str, ...]:
    return tuple(_BY_NAME)
