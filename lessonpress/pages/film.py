"""How large the moving picture of a loop is."""

from __future__ import annotations

from lessonpress.figures.plates import Panel

WIDTH = 640  # px: lettering then keeps its size beside that of other plates


def film_size(panel: Panel) -> tuple[int, int]:
    """Width and height of a loop's pictures, px, in the proportion of the crop, both even."""
    left, top, right, bottom = panel.crop
    return WIDTH, max(2, round(WIDTH * (bottom - top) / (right - left) / 2) * 2)
