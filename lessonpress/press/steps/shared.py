"""What the steps of one process share, from product to product and, at the desk, from press to press."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from lessonpress.press.steps.dockets import Key
from lessonpress.press.steps.held import Held

_MOST_OPEN = 5_000_000  # bytes, packed, of products that are held in memory; others are opened again
_MOST_SURVEYED = 12  # clips


@dataclass
class Shared:
    """None of it is a product: all can be made or opened again.

    open: products by their key and hash. surveyed: clips by what of them was surveyed and their name, such as
    their solved cameras, with what they were made of. themes: by their folder, with their templates.
    """

    open: Held[tuple[Key, str], Any] = field(default_factory=lambda: Held(_MOST_OPEN))
    surveyed: Held[tuple[str, str], tuple[object, Any]] = field(default_factory=lambda: Held(_MOST_SURVEYED))
    themes: dict[str, Any] = field(default_factory=dict)
