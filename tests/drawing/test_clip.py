"""Clipping against OpenCV's."""

from __future__ import annotations

import math

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.drawing.strokes import clip

BOX = (0.0, 0.0, 359.0, 449.0)
coordinate = st.integers(-300, 700)
point = st.tuples(coordinate, coordinate)


@given(point, point)
def test_a_segment_is_cut_as_opencv_cuts_it(a: tuple[int, int], b: tuple[int, int]) -> None:
    """Ends agree with cv2.clipLine to the whole px it works in, drawn out along steep lines."""
    astray = 2.0 * _steepness(a, b)
    found = clip.segment((float(a[0]), float(a[1])), (float(b[0]), float(b[1])), BOX)
    seen, start, end = cv2.clipLine((0, 0, 360, 450), a, b)
    if found is None:
        assert not seen or math.dist(start, end) <= astray  # a corner only grazed
    elif seen:
        assert math.dist(found[0], start) <= astray or math.dist(found[0], found[1]) <= 4.0
        assert math.dist(found[1], end) <= astray or math.dist(found[0], found[1]) <= 4.0
    else:
        assert math.dist(*found) <= astray


def test_a_segment_is_cut_where_a_steep_line_crosses_the_edge() -> None:
    """By hand: from (1, 451) to (−3, 0), y = 449 at x = 1 − 4 · 2/451, and x = 0 at y = 451 · 3/4."""
    assert clip.segment((1.0, 451.0), (-3.0, 0.0), BOX) == (
        pytest.approx((1 - 8 / 451, 449.0)),
        pytest.approx((0.0, 338.25)),
    )


def _steepness(a: tuple[int, int], b: tuple[int, int]) -> float:
    """How many px along a line's longer side go to one of its shorter; 1 for a level or upright one."""
    across, down = abs(a[0] - b[0]), abs(a[1] - b[1])
    return max(across, down) / min(across, down) if across and down else 1.0


@given(st.lists(point, min_size=3, max_size=8))
def test_a_convex_area_is_cut_as_opencv_cuts_it(points: list[tuple[int, int]]) -> None:
    """The area inside the box agrees with cv2.intersectConvexConvex."""
    hull = cv2.convexHull(np.array(points, dtype=np.float32)).reshape(-1, 2)
    if len(hull) < 3 or cv2.contourArea(hull) < 50:
        return
    box = np.array([(0, 0), (359, 0), (359, 449), (0, 449)], dtype=np.float32)
    expected, _ = cv2.intersectConvexConvex(hull, box)
    kept = clip.area([(float(x), float(y)) for x, y in hull], BOX)
    area = cv2.contourArea(np.array(kept, dtype=np.float32)) if len(kept) >= 3 else 0.0
    assert area == pytest.approx(expected, rel=1e-3, abs=2.0)


def test_a_line_that_leaves_and_returns_comes_back_in_two_parts() -> None:
    """A zigzag over the edge gives one run for each visit."""
    zigzag = ((10.0, 10.0), (10.0, -50.0), (60.0, -50.0), (60.0, 20.0))
    assert clip.runs(zigzag, BOX) == (((10.0, 10.0), (10.0, 0.0)), ((60.0, 0.0), (60.0, 20.0)))


def test_a_line_inside_is_left_as_it_is() -> None:
    """Nothing is recomputed that needs no clipping."""
    inside = ((1.25, 2.5), (300.0, 400.0), (20.0, 30.0))
    assert clip.runs(inside, BOX, closed=True) == (inside,)


def test_what_lies_outside_is_nothing() -> None:
    """A line, a run and an area beside the box leave nothing."""
    assert clip.segment((-5.0, 0.0), (-5.0, 400.0), BOX) is None
    assert clip.runs(((-5.0, 0.0), (-9.0, 400.0)), BOX) == ()
    assert clip.area([(-5.0, 0.0), (-9.0, 400.0), (-20.0, 3.0)], BOX) == ()
