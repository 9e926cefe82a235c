"""Overlays laid into a picture for good: where they lie, and that a mirrored picture turns with them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from lessonpress.drawing import burned
from lessonpress.overlays.shapes import SignAt
from tests.drawing import sample
from tests.drawing.reading import near

WIDTH = 400  # CSS px, half as wide as the sample's picture
DOT = (200.0, 300.0)  # px of the picture: a quarter of its width from the left
PATCH = (580, 780, 620, 820)  # px of what was filmed, about (600, 800)


def picture() -> Image.Image:
    """White, with a patch of red at PATCH."""
    made = Image.new("RGB", sample.SIZE, "#FFFFFF")
    made.paste("#FF0000", PATCH)
    return made


def middle(shown: np.ndarray, colour: str) -> tuple[float, float]:
    """The middle of all that has a colour, px of the picture as shown."""
    rows, columns = np.nonzero(near(shown, colour, 40))
    assert len(rows)
    return float(columns.mean() + 0.5), float(rows.mean() + 0.5)


@pytest.mark.parametrize("density", [1, 2])
@pytest.mark.parametrize("mirrored", [False, True])
def test_picture_and_overlay_lie_as_the_panel_says(mirrored: bool, density: int) -> None:
    """Mirrored, both are turned about the upright axis and neither is moved up or down."""
    dot = sample.drawn("", "note", "blue", SignAt("dot", DOT, "blue", size=8))
    panel = replace(sample.panel_of(dot), mirrored=mirrored)
    filmed = picture().resize((WIDTH * density, 500 * density))
    shown = np.asarray(burned(panel, filmed, WIDTH), dtype=np.int16)
    assert shown.shape == (500 * density, WIDTH * density, 3)

    def place(x: float, y: float) -> tuple[float, float]:
        return ((800 - x if mirrored else x) / 2 * density, y / 2 * density)

    assert middle(shown, "#FF0000") == pytest.approx(place(600, 800), abs=0.6)
    assert middle(shown, "#0072B2") == pytest.approx(place(*DOT), abs=0.6)


def test_letters_are_not_turned_with_the_picture() -> None:
    """A tag in the middle of a mirrored picture is the tag of the picture as filmed, px for px."""
    tag = sample.note("F", (400.0, 500.0))
    as_filmed, turned = (
        np.asarray(burned(replace(sample.panel_of(tag), mirrored=mirrored), picture(), WIDTH))
        for mirrored in (False, True)
    )
    letters = [near(one.astype(np.int16), "#FFFDF4", 2) for one in (as_filmed, turned)]
    found = [part[np.ix_(part.any(axis=1), part.any(axis=0))] for part in letters]
    assert found[0].shape == found[1].shape
    assert (found[0] == found[1]).mean() > 0.99
