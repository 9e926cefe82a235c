"""The size at which a loop's video is shown."""

from __future__ import annotations

from lessonpress.figures import Panel

# CSS px that a loop is laid out for and shown at, about a phone's width: its letters are part of its
# pictures, so that only at one width do they keep the size of those of other plates.
LAID_OUT = 400
DENSITY = 2  # px of the film to a CSS px, for the finer screens of phones


def film_size(panel: Panel) -> tuple[int, int]:
    """Width and height of a loop's pictures, px, in the proportion of the crop, both even."""
    left, top, right, bottom = panel.crop
    width = LAID_OUT * DENSITY
    return width, max(2, round(width * (bottom - top) / (right - left) / 2) * 2)
