"""What a loop says of overlays that carry a number elsewhere."""

from __future__ import annotations

from pathlib import Path

from tests.figures.drawn import lesson_of

LOOP = """\
```loop
from: 12
to: 14
draw:
  - tilt: [navel, c7]
  - {vertical: navel, placed: setup}
```
"""


def test_a_loop_names_what_it_draws_and_speaks_of_no_failed_measure(tmp_path: Path) -> None:
    """A loop prints no number: "not measured" would report a failure that there was not."""
    (plate,) = lesson_of(tmp_path, LOOP).plates
    assert "Tilt, navel to C7." in plate.description
    assert "A vertical line marks where the navel is at setup." in plate.description
    assert "not measured" not in plate.description + plate.alt + "".join(p.alt for p in plate.panels)
