"""The words that a sign may carry along each axis, positive first."""

from __future__ import annotations

from lessonpress.records import Axis

WAYS: dict[Axis, tuple[str, ...]] = {
    "level": ("toward", "away"),
    "plumb": ("up", "down"),
    "straight": (),
}
