"""From the picture to the page, mirrored and not."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.drawing.layout import Layout

CROP = (100.0, 40.0, 740.0, 840.0)
inside = st.tuples(st.floats(100, 740), st.floats(40, 840))


@given(inside, st.booleans())
def test_a_place_comes_back(point: tuple[float, float], mirrored: bool) -> None:
    """Laying out and going back ends where it began."""
    layout = Layout(CROP, 360.0, mirrored)
    assert math.dist(layout.back(layout.point(point)), point) < 1e-9


@given(inside, st.floats(-180, 180))
def test_mirroring_turns_a_direction_as_it_turns_the_points(
    point: tuple[float, float], degrees: float
) -> None:
    """The heading of two mirrored points is the mirrored heading."""
    layout = Layout(CROP, 360.0, True)
    turn = math.radians(degrees)
    a, b = layout.point(point), layout.point((point[0] + 9 * math.cos(turn), point[1] + 9 * math.sin(turn)))
    seen = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    assert (seen - layout.angle(degrees) + 180) % 360 - 180 == pytest.approx(0, abs=1e-6)


def test_the_crop_fills_the_width() -> None:
    """Corners of the crop are corners of the plate, whose height keeps the crop's proportions."""
    layout = Layout(CROP, 360.0)
    assert layout.point((100.0, 40.0)) == (0.0, 0.0)
    assert layout.point((740.0, 840.0)) == (360.0, 450.0)
    assert layout.height == 450.0
    assert Layout(CROP, 360.0, True).box((100.0, 40.0, 420.0, 440.0)) == (180.0, 0.0, 360.0, 225.0)
