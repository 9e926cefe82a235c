"""Points and boxes in a picture, px: x right, y down, (0, 0) the outer corner of the first pixel."""

from __future__ import annotations

Point = tuple[float, float]  # x, y
PictureBox = tuple[float, float, float, float]  # left, top, right, bottom
