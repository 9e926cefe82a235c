"""The table of overlay kinds; nothing else in the program lists them."""

from __future__ import annotations

from collections.abc import Mapping

from lessonpress.overlays.kind import OverlayKind
from lessonpress.overlays.kinds import (
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

# in the order of the handbook
_IN_ORDER: tuple[OverlayKind, ...] = (
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

# by the key that names the kind in a lesson
KINDS: Mapping[str, OverlayKind] = {kind.KIND: kind for kind in _IN_ORDER}
