"""A drawing's ink by itself is the whole drawing's, px for px."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from lessonpress.drawing.layout import Layout
from lessonpress.drawing.paper import Element, circle, document, path, sheet
from lessonpress.drawing.pixels import ink, px_across, render_png
from lessonpress.drawing.plate import overlays
from tests.drawing import sample

SIZE = (400, 500)  # CSS px
PANEL = sample.other_kinds()
DRAWINGS = {
    "overlays of a plate": overlays(PANEL, Layout(PANEL.crop, 400.0), "t"),
    "a hairline": [path("M120 30L121 470", stroke="#000", stroke_width=0.3, stroke_opacity=0.3)],
    "a speck": [circle(0.4, (233.3, 71.7), fill="#000")],
    "what runs over every edge": [path("M-50 -50L450 550M450 -50L-50 550", stroke="#000", stroke_width=9)],
}


@pytest.mark.parametrize("name", DRAWINGS)
@pytest.mark.parametrize("zoom", [1, 1.5, 2])
def test_ink_by_itself_is_that_of_the_whole_drawing(name: str, zoom: float) -> None:
    made = Image.new("RGB", (round(SIZE[0] * zoom), round(SIZE[1] * zoom)), "#808080")
    ink(DRAWINGS[name], *SIZE, zoom).laid_on(made)
    known = Image.new("RGB", made.size, "#808080")
    whole = whole_of(DRAWINGS[name], zoom)
    known.paste(whole, mask=whole)
    assert np.asarray(known).std() > 0
    assert np.abs(np.asarray(made, dtype=int) - np.asarray(known, dtype=int)).max() <= 1


def test_no_more_is_drawn_than_has_ink() -> None:
    drawn = ink(DRAWINGS["a speck"], *SIZE, 2)
    assert drawn.picture is not None
    assert drawn.picture.width * drawn.picture.height < 0.01 * 4 * SIZE[0] * SIZE[1]
    assert ink([], *SIZE, 2).picture is None


@pytest.mark.parametrize(
    ("filmed", "across"), [(300, 960), (960, 960), (1100, 1100), (1280, 1280), (2160, 1280)]
)
def test_a_picture_is_drawn_with_the_px_that_it_was_filmed_with(filmed: int, across: int) -> None:
    """Of a picture shown 640 CSS px wide: from one and a half px to each, for the letters, up to two."""
    assert px_across((10.0, 20.0, 10.0 + filmed, 900.0), 640) == across


def whole_of(elements: list[Element], zoom: float) -> Image.Image:
    drawing = sheet(*SIZE, sized=True)
    for element in elements:
        drawing.add(element)
    return Image.open(io.BytesIO(render_png(document(drawing), zoom))).convert("RGBA")
