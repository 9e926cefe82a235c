"""Signs keep the sizes of the table of looks, whatever the picture's size."""

from __future__ import annotations

import numpy as np
import pytest

from lessonpress.drawing.palette import COLOURS, INK
from lessonpress.drawing.strokes.signs import SIGNS, draw_sign
from lessonpress.overlays.shapes import Colour, Sign, SignAt
from tests.drawing.reading import near, rendered

ZOOM = 10


def extent(sign: SignAt) -> tuple[float, float, float, float]:
    """Left, top, right, bottom in CSS px of the sign's dark and coloured parts about its point."""
    at = SignAt(sign.sign, (30.0, 30.0), sign.colour, sign.angle, sign.size)
    picture = rendered(draw_sign(at, (0.0, 0.0)).tostring(), 60, 60, ZOOM)
    inked = near(picture, COLOURS[sign.colour]) | near(picture, INK)
    ys, xs = np.nonzero(inked)
    return (
        xs.min() / ZOOM - 30,
        ys.min() / ZOOM - 30,
        (xs.max() + 1) / ZOOM - 30,
        (ys.max() + 1) / ZOOM - 30,
    )


@pytest.mark.parametrize(
    ("sign", "width", "height"),
    [
        ("dot", 7.2, 7.2),
        ("bob", 14.0, 9.0),
        ("barb", 15.0, 12.0),
        ("stop", 2.5, 10.0),
        ("tick", 6.0, 2.5),
        ("cross", 16.0, 16.0),
    ],
)
def test_a_sign_has_the_size_of_its_table(sign: Sign, width: float, height: float) -> None:
    """In black, along its angle and across it, in CSS px."""
    left, top, right, bottom = extent(SignAt(sign, (0, 0), "black"))
    assert right - left == pytest.approx(width, abs=0.5)
    assert bottom - top == pytest.approx(height, abs=0.5)


@pytest.mark.parametrize("colour", ["black", "vermilion", "purple"])
def test_the_tip_of_a_barb_is_its_point(colour: Colour) -> None:
    """A barb pointing up ends at its mark within half a CSS px and a rim."""
    _, top, _, bottom = extent(SignAt("barb", (0, 0), colour, -90))
    assert abs(top) <= 1.2
    assert bottom == pytest.approx(15, abs=1.2)


def test_a_bob_hangs_along_its_angle() -> None:
    """Its tip is nine CSS px below its point when it hangs down the page."""
    assert extent(SignAt("bob", (0, 0), "black", 90))[3] == pytest.approx(9, abs=0.4)


def test_a_size_replaces_the_usual_one() -> None:
    """A dot of radius 5 is ten CSS px across."""
    left, _, right, _ = extent(SignAt("dot", (0, 0), "black", size=5))
    assert right - left == pytest.approx(10, abs=0.4)


@pytest.mark.parametrize("sign", SIGNS)
@pytest.mark.parametrize("ground", ["#000000", "#FFFFFF", "#7A9F3A"])
def test_every_sign_shows_on_every_ground(sign: Sign, ground: str) -> None:
    """On black, on white and on turf a sign changes what is there, with dark and light parts both."""
    behind = f'<rect width="60" height="60" fill="{ground}"/>'
    picture = rendered(behind + draw_sign(SignAt(sign, (30.0, 30.0), "purple"), (0, 0)).tostring(), 60, 60, 4)
    light = picture.sum(axis=-1)
    changed = ~near(picture, ground, 3)
    assert light[changed].max() > 680
    assert light[changed].min() < 120
