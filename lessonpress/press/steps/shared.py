"""What the steps of one process share, from product to product and, at the desk, from press to press."""

from __future__ import annotations

import gc
from dataclasses import dataclass, field
from typing import Any

from lessonpress.press.steps.held import Held
from lessonpress.press.steps.uses import Key

_MOST_OPEN = 2_000_000  # bytes, packed, of products of lessons and clips
_MOST_SURVEYED = 8  # clips
_MOST_GONE = 4  # surveys let go of, before garbage is collected


@dataclass
class Shared:
    """None of it is a product: all can be made or opened again.

    open: products of lessons and clips, with their hash. of_site: those of the whole site, few and asked for
    by nearly every lesson. surveyed: clips by what of them was surveyed and their name, such as their solved
    cameras, with what they were made of. themes: by their folder, with their templates.
    """

    open: Held[Key, tuple[str, Any]] = field(default_factory=lambda: Held(_MOST_OPEN))
    of_site: dict[Key, tuple[str, Any]] = field(default_factory=dict)
    surveyed: Held[tuple[str, str], tuple[object, Any]] = field(default_factory=lambda: Held(_MOST_SURVEYED))
    themes: dict[str, Any] = field(default_factory=dict)
    _gone: int = 0  # surveys let go of since garbage was collected

    def hold(self, key: Key, product: str, value: Any, weight: int) -> None:
        """Holds a product. product: its hash. weight: bytes, packed."""
        if key[1]:
            self.open.hold(key, (product, value), weight)
        else:
            self.of_site[key] = (product, value)

    def held(self, key: Key, product: str) -> tuple[Any] | None:
        """The product of that hash, where it is held."""
        places = self.open if key[1] else self.of_site
        if key not in places or places[key][0] != product:
            return None
        return (places[key][1],)

    def hold_survey(self, of: tuple[str, str], made_of: object, made: Any) -> None:
        """Holds a clip that was surveyed.

        Its parts point back to it and it holds some megabytes of draws in few objects: let go of, it is
        garbage that would lie there for long.
        """
        self._gone += self.surveyed.hold(of, (made_of, made))
        if self._gone >= _MOST_GONE:
            gc.collect()
            self._gone = 0
