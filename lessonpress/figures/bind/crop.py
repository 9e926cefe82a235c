"""Which part of a clip's pictures is printed.

`auto` takes the hull of the lesson's marks on that clip, and of what more of the golfer there likely is
(extent.py), with a margin of 15 % and grows it to 4:5, the same for all figures of the lesson, so that a
reader who steps from plate to plate sees the golfer move and not the frame.
"""

from __future__ import annotations

from collections.abc import Iterable

from lessonpress.records import PictureBox, Point

MARGIN = 0.15
RATIO = 4 / 5  # width to height of a plate
LEAST = 1 / 3  # of the picture's height: a lone mark keeps its surroundings


def full_frame(size: tuple[int, int]) -> PictureBox:
    """The whole picture."""
    return (0.0, 0.0, float(size[0]), float(size[1]))


def auto(points: Iterable[Point], size: tuple[int, int]) -> PictureBox:
    """The hull of points with its margin, grown to 4:5 and kept inside the picture; whole px.

    A picture too narrow or too low for 4:5 around the hull gives what it has. No points: the whole picture.
    """
    seen = list(points)
    if not seen:
        return full_frame(size)
    xs, ys = [x for x, _ in seen], [y for _, y in seen]
    margin = MARGIN * max(max(xs) - min(xs), max(ys) - min(ys))
    width, height = max(xs) - min(xs) + 2 * margin, max(ys) - min(ys) + 2 * margin
    height = max(height, width / RATIO, LEAST * size[1])
    width = max(width, height * RATIO)
    width, height = min(width, size[0]), min(height, size[1])
    # a picture may bound one side only: the other follows, as far as the hull allows
    width = max(min(width, height * RATIO), min(size[0], max(xs) - min(xs) + 2 * margin))
    height = max(min(height, width / RATIO), min(size[1], max(ys) - min(ys) + 2 * margin))
    left, right = _slid((min(xs) + max(xs)) / 2, width, size[0])
    top, bottom = _slid((min(ys) + max(ys)) / 2, height, size[1])
    return (left, top, right, bottom)


def _slid(middle: float, length: float, limit: int) -> tuple[float, float]:
    """A stretch of `length` about `middle`, slid inside 0..limit, on whole px."""
    length = min(round(length), limit)
    start = min(max(0, round(middle - length / 2)), limit - length)
    return (float(start), float(start + length))
