"""On how many frames a mark must be placed for its way."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from lessonpress.measure.kinds.path import frames_of_way
from lessonpress.measure.uncertainty.refusal import RefusedError


@dataclass
class Placed:
    """As much of a scene as a way is looked for in."""

    frames: list[int]

    def tracked(self, mark: str, first: int, last: int) -> list[int]:
        return self.frames


def test_a_way_needs_steps_over_half_of_its_frames() -> None:
    """Four steps over eight frames are half, three are fewer: the ends of a way are one place more."""
    assert frames_of_way(Placed([0, 2, 4, 6, 8]), "navel", 0, 8) == [0, 2, 4, 6, 8]  # type: ignore[arg-type]
    with pytest.raises(RefusedError, match="4 of 9 frames"):
        frames_of_way(Placed([0, 3, 6, 8]), "navel", 0, 8)  # type: ignore[arg-type]
