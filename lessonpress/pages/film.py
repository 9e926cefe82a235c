"""The size at which a loop's video is shown."""

from __future__ import annotations

from lessonpress.drawing import px_across
from lessonpress.figures import Panel

# CSS px that a loop is laid out for and shown at, about a phone's width: its letters are part of its
# pictures, so that only at one width do they keep the size of those of other plates.
LAID_OUT = 400


def film_size(panel: Panel) -> tuple[int, int]:
    """Width and height of a loop's pictures, px, in the proportion of the crop, both even."""
    left, top, right, bottom = panel.crop
    width = 2 * round(px_across(panel.crop, LAID_OUT) / 2)
    return width, max(2, round(width * (bottom - top) / (right - left) / 2) * 2)
